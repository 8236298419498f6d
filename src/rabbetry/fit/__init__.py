"""The box put together virtually; every joint, gap and hole row checked before anything is cut."""
