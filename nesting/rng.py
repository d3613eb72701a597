"""Random numbers: one generator per phase and worker, all from the one seed of a solve."""

import numpy as np


def worker_seed(seed: int, phase: int, worker: int = 0) -> int:
    """A 32-bit seed for one worker of one phase, such as a compiled kernel wants."""
    return int(np.random.SeedSequence([seed, phase, worker]).generate_state(1)[0])


def generator(seed: int, phase: int, worker: int = 0) -> np.random.Generator:
    """A generator for one worker of one phase."""
    return np.random.default_rng([seed, phase, worker])
