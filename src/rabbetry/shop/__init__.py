"""Machines, cutters, chip loads, materials and sheet goods: text tables read into records."""
