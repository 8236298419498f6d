"""post"""
