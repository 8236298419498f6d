"""What should remain after cutting, written beside each program for the dry run: from panels and sheets, never from
operations."""
