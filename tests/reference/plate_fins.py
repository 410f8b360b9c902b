#!/usr/bin/env python3
"""Steady heat of aluminum plates under a floor, by finite differences in two dimensions: the
reference for models/emitters/radiant_panel.hpp. Half a spacing wide, both sides symmetric: a plate
of one temperature at the tube, conducting along itself, under a layer that conducts both
ways with a constant coefficient on top; insulation below, without heat running sideways in it.

Prints spacing, plate width, plate thickness, layer thickness and conductivity, U on top and below, and
the heat up and down of one m2 per kelvin of plate root above the room [W/(m2 K)] on two grids. Numpy and scipy.
"""
import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as sl

ALUMINUM = 210.0


def heat(spacing, width, plate, layer, conductivity, top, back, nx):
    h = spacing / 2 / nx
    ny = max(4, round(layer / h))
    k = layer / ny
    count = nx * ny + nx  # cells of the layer, then cells of the plate's plane
    rows, columns, values = [], [], []
    diagonal, source = np.zeros(count), np.zeros(count)

    def link(a, b, g):
        rows.extend((a, b)), columns.extend((b, a)), values.extend((-g, -g))
        diagonal[a] += g
        diagonal[b] += g

    cell = lambda i, j: i * ny + j
    face = 1 / (1 / top + k / 2 / conductivity)
    for i in range(nx):
        for j in range(ny):
            if i + 1 < nx:
                link(cell(i, j), cell(i + 1, j), conductivity * k / h)
            if j + 1 < ny:
                link(cell(i, j), cell(i, j + 1), conductivity * h / k)
        diagonal[cell(i, ny - 1)] += face * h
        plane = nx * ny + i
        link(cell(i, 0), plane, conductivity * h / (k / 2))
        diagonal[plane] += back * h
        along = ALUMINUM * plate / h
        if i + 1 < nx and (i + 1) * h < width / 2:
            link(plane, plane + 1, along)
    root = nx * ny
    diagonal[root] += 2 * ALUMINUM * plate / h  # the tube, held at 1 K, half a cell away
    source[root] += 2 * ALUMINUM * plate / h
    every = np.arange(count)
    matrix = sp.csc_matrix((np.r_[values, diagonal], (np.r_[rows, every], np.r_[columns, every])))
    t = sl.spsolve(matrix, source)
    up = sum(t[cell(i, ny - 1)] for i in range(nx)) * face * h / (spacing / 2)
    down = sum(t[nx * ny:]) * back * h / (spacing / 2)
    return up, down


for case in ((0.2032, 0.127, 0.001, 0.030, 0.12, 10.8, 0.28), (0.2032, 0.127, 0.0005, 0.030, 0.12, 10.8, 0.28),
             (0.2032, 0.0762, 0.001, 0.030, 0.12, 10.8, 0.28), (0.2032, 0.1778, 0.0005, 0.013, 0.12, 10.8, 0.35),
             (0.2032, 0.1524, 0.0005, 0.0127, 0.16, 6.0, 0.15), (0.2032, 0.1524, 0.0005, 0.0127, 0.16, 8.0, 0.36),
             (0.3048, 0.127, 0.001, 0.030, 0.12, 10.8, 0.28), (0.3048, 0.0762, 0.0005, 0.040, 0.14, 10.8, 0.28),
             (0.1524, 0.127, 0.0005, 0.010, 0.14, 10.8, 0.35)):
    print(*case, *(f"{q:.4f}" for n in (200, 400) for q in heat(*case, n)))
