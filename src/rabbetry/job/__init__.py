"""The job file: text in, a `Job` with every length in millimetres out, all faults reported at once."""
