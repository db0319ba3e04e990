"""The way back from a picture: straight rays from the eye."""

import numpy as np

from oddswap.showing.ink.camera import Camera


def ray(camera: Camera, spots: np.ndarray) -> np.ndarray:
    """Unit vectors (..., 3) from the eye to where picture points (..., 2) lie; the way back from `Camera.project`."""
    towards = spots @ np.stack([camera.right, camera.up]) - camera.eye
    return towards / np.linalg.norm(towards, axis=-1, keepdims=True)
