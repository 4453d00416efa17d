"""Files that appear whole or not at all, for every room that writes one."""
