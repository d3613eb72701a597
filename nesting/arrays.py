"""Names for the array types that pass between the parts of the engine."""

import numpy as np
import numpy.typing as npt

IntArray = npt.NDArray[np.int64]
FloatArray = npt.NDArray[np.float64]
ValueArray = npt.NDArray[np.float32]
BoolArray = npt.NDArray[np.bool_]
