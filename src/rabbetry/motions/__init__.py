"""motions"""
