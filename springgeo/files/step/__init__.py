"""STEP (AP242): the solid, its data, colours and mate frames, written and read back."""
