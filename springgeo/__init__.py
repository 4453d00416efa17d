"""springgeo."""
