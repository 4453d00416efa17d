"""The desk: a local page on which a specification is changed while the spring follows.

The YAML file stays the truth; the page is one more editor of it.
"""
