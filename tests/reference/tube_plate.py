#!/usr/bin/env python3
"""Steady heat from a tube in a plate to the room above, by finite differences in two
dimensions: the reference for tube_plane_resistance. Half a spacing wide, both sides
symmetric, tube wall at one temperature, bottom insulated, top with a conductance U.

Prints spacing, above, below, diameter [m], conductivity, U and the resistance from tube
wall to room [m2 K/W] on two grids. Needs numpy and scipy.
"""
import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as sl


def resistance(spacing, above, below, diameter, conductivity, U, h):
    nx, ny = round(spacing / 2 / h), round((above + below) / h)
    x, y = (np.arange(nx) + 0.5) * h, -below + (np.arange(ny) + 0.5) * h
    free = x[:, None] ** 2 + y[None, :] ** 2 >= (diameter / 2) ** 2
    index = np.full((nx, ny), -1)
    index[free] = np.arange(free.sum())
    rows, columns, values = [], [], []
    diagonal, source = np.zeros(free.sum()), np.zeros(free.sum())
    top = h / (1 / U + h / 2 / conductivity)

    def to_wall(i, j, di, dj):  # share of the grid step to the tube's wall
        p, step = np.array([x[i], y[j]]), np.array([di, dj]) * h
        a, b, c = step @ step, 2 * p @ step, p @ p - (diameter / 2) ** 2
        return max((-b - np.sqrt(b * b - 4 * a * c)) / (2 * a), 1e-3)

    for i, j in np.argwhere(free):
        k = index[i, j]
        for di, dj in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            m, n = i + di, j + dj
            if m < 0 or m >= nx or n < 0:
                continue
            if n >= ny:
                diagonal[k] += top
            elif free[m, n]:
                rows.append(k), columns.append(index[m, n]), values.append(-conductivity)
                diagonal[k] += conductivity
            else:
                g = conductivity / to_wall(i, j, di, dj)
                diagonal[k] += g
                source[k] += g
    every = np.arange(len(diagonal))
    matrix = sp.csc_matrix((np.r_[values, diagonal], (np.r_[rows, every], np.r_[columns, every])))
    t = sl.spsolve(matrix, source)
    return spacing / 2 / (np.sum(t[index[:, -1]]) * top)


for case in ((0.15, 0.053, 0.030, 0.016, 1.2, 10.8), (0.15, 0.053, 0.030, 0.016, 1.2, 5.192),
             (0.20, 0.053, 0.030, 0.016, 1.2, 10.8), (0.30, 0.055, 0.030, 0.020, 1.0, 7.013),
             (0.15, 0.055, 0.030, 0.020, 1.0, 10.8), (0.15, 0.053, 0.008, 0.016, 1.2, 10.8), (0.30, 0.055, 0.010, 0.020, 1.0, 7.013)):
    print(*case, *(f"{resistance(*case, h):.4f}" for h in (0.0005, 0.00025)))
