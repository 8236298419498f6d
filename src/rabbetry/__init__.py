"""Rabbetry: a job file in, proven cut programs for cabinet carcasses out."""

__version__ = "0.1.0"
