"""Permutation groups on points, and linear algebra modulo prime powers. Main door: `StabiliserChain`."""
