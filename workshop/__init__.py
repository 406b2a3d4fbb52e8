"""The site and the floor.

Imported before anything that computes, by the server, the worker and every command: matrices of a bat are
small, and a linear algebra library that shares them out over threads waits for its own threads far longer
than it computes when the other cores are busy (40 times as long was measured on two busy cores).
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
