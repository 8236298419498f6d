"""feeds"""
