"""panels"""
