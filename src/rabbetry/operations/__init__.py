"""operations"""
