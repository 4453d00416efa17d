"""The page's colours as CSS, from the one list: light, dark, and light again on paper."""

from __future__ import annotations

from springgeo.colours import INKS, PRINTED


def theme() -> str:
    """Return the style sheet that gives every colour its name."""
    light = _block({k: v.light for k, v in INKS.items()}, "light")
    dark = _block({k: v.dark for k, v in INKS.items()}, "dark")
    paper = {k: v.light for k, v in INKS.items()} | PRINTED
    every = ':root, :root[data-theme="dark"], :root:not([data-theme="light"])'
    return (
        f":root {{ {light} }}\n"
        f':root[data-theme="dark"] {{ {dark} }}\n'
        "@media (prefers-color-scheme: dark) "
        f'{{ :root:not([data-theme="light"]) {{ {dark} }} }}\n'
        f"@media print {{ {every} {{ {_block(paper, 'light')} }} }}\n"
    )


def _block(colours: dict[str, str], scheme: str) -> str:
    return "".join(f"--{k}: {v}; " for k, v in colours.items()) + f"color-scheme: {scheme};"
