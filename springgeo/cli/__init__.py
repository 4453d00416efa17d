"""The command line: ``springgeo build | check | ends | materials | new``."""

import os

# the arrays here are small: idle threads of numpy's linear algebra would only cost CPU time
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# pydantic looks for plug-ins of others in every installed package: 35 ms, and none is wanted here
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
