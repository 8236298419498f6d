"""Pictures, drawings, lists, labels and the job's page: text from records, never files."""
