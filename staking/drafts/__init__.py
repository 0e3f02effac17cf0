"""Which lines does a drawing hold that a slab's outline can be made of?"""
