"""setup"""
