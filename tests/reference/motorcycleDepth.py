"""Prints, as JSON, level stretches of a garage scene with measured depth, as seen by the left camera.

Rows of pixels whose measured disparity changes by less than a tenth of a pixel from pixel to pixel and by less than 0.03
over the whole stretch: flat pieces that face the camera. Lengths come from the baseline and the disparities alone, distances from the focal length as well.
"""
import json
import sys

import numpy

FOCAL_PX, CENTRE_PX, BASELINE_M, OFFSET_PX = 994.978, 311.193, 0.193001, 31.086
STRETCH_PX = 60

disparity = numpy.load(sys.argv[1])['arr_0'].astype(float) + OFFSET_PX
height, width = disparity.shape
stretches = []
for row in range(10, height, 5):
    for left in range(10, width - STRETCH_PX, STRETCH_PX // 2):
        piece = disparity[row, left:left + STRETCH_PX + 1]
        if not numpy.isfinite(piece).all():
            continue
        if abs(numpy.diff(piece)).max() > 0.1 or abs(piece[-1] - piece[0]) > 0.03:
            continue
        columns = numpy.array([left, left + STRETCH_PX]) + 0.5
        ends = BASELINE_M * (columns - CENTRE_PX) / piece[[0, -1]]
        deep = FOCAL_PX * BASELINE_M / piece[[0, -1]]
        stretches.append({
            'ends': [[float(columns[0]), row + 0.5], [float(columns[1]), row + 0.5]],
            'lengthM': float(numpy.hypot(ends[1] - ends[0], deep[1] - deep[0])),
            'depthM': float(FOCAL_PX * BASELINE_M / piece.mean()),
        })

spots = {f'{row},{column}': float(disparity[row, column]) for row, column in ((250, 370), (100, 600))}
print(json.dumps({'width': width, 'height': height, 'stretches': stretches, 'spots': spots}))
