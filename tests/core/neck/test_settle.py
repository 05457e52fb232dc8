"""What is settled on whole shapes: muted strings between sounding ones."""

from itertools import product

import numpy as np
import pytest

from gripwright.neck.settle import inner_mutes


@pytest.mark.parametrize("strings", [1, 2, 3, 5])
def test_inner_mutes_lie_between_sounding_strings(strings: int) -> None:
    """Muted, with a string that sounds, open or fretted, somewhere on either side."""
    shapes = [*product((-1, 0, 3), repeat=strings)]
    found = inner_mutes([np.array(column, np.int8) for column in zip(*shapes, strict=True)])
    expected = [
        [
            frets[string] < 0 and max(frets[:string], default=-1) >= 0 <= max(frets[string:])
            for string in range(strings)
        ]
        for frets in shapes
    ]
    assert np.stack(found).T.tolist() == expected
