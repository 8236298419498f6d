"""The second person: reads the program's text and its setup file, and judges.

Shares nothing with the planner but findings.
"""
