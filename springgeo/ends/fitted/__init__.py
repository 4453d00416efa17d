"""Ends that hold a part of their own: swivels, plugs, shackles."""
