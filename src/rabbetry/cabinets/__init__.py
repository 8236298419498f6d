"""cabinets"""
