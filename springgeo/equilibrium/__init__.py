"""The wire in equilibrium: large deflection, any pull, coils in contact.

One way from the drawn centreline to every loaded state: ``Rod`` (cells of wire with their natural
strain), supports and contact, a Newton solver, and the load curve made of what it finds.
"""
