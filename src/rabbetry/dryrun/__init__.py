"""dryrun"""
