"""Prints, as JSON, what OpenCV makes of its own chessboard photographs.

Per photograph: size, the four outer inner corners (px, (0,0) at the outer corner of the top-left pixel), the density at the
board's centre (px/m, along the 200 mm and the 125 mm side) from the homography of those four (`fourCorners`) and from the
calibration with distortion and poses that the package ships (`calibrated`), the depth (m), and some grey codes.
"""
import json
import sys

import cv2
import numpy

FOLDER = sys.argv[1]
SQUARE_M = 0.025
COLUMNS, ROWS = 9, 6
WIDTH_M, HEIGHT_M = (COLUMNS - 1) * SQUARE_M, (ROWS - 1) * SQUARE_M
CENTRE = numpy.array([WIDTH_M / 2, HEIGHT_M / 2])
STEP_M = 1e-5

shipped = cv2.FileStorage(FOLDER + 'left_intrinsics.yml', cv2.FILE_STORAGE_READ)
camera = shipped.getNode('camera_matrix').mat()
distortion = shipped.getNode('distortion_coefficients').mat()
poses = shipped.getNode('extrinsic_parameters').mat()
VIEWS = [f'left{i:02d}' for i in (1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14)]


def slopes(project):
    """Lengths of the image of a metre along each side at the board's centre, by central differences."""
    found = []
    for axis in (0, 1):
        ahead, behind = CENTRE.copy(), CENTRE.copy()
        ahead[axis] += STEP_M
        behind[axis] -= STEP_M
        found.append(float(numpy.linalg.norm(project(ahead) - project(behind)) / (2 * STEP_M)))
    return found


def measured(name):
    grey = cv2.imread(FOLDER + name + '.jpg', cv2.IMREAD_GRAYSCALE)
    found, corners = cv2.findChessboardCorners(grey, (COLUMNS, ROWS))
    assert found, name
    ending = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 100, 1e-4)
    corners = cv2.cornerSubPix(grey, corners, (5, 5), (-1, -1), ending).reshape(-1, 2)
    outer = corners[[0, COLUMNS - 1, COLUMNS * ROWS - 1, COLUMNS * (ROWS - 1)]]
    plane = numpy.array([[0, 0], [WIDTH_M, 0], [WIDTH_M, HEIGHT_M], [0, HEIGHT_M]])
    homography, _ = cv2.findHomography(plane, outer.astype(float))

    def by_homography(point):
        x, y, w = homography @ numpy.array([point[0], point[1], 1])
        return numpy.array([x / w, y / w])

    turn, shift = poses[VIEWS.index(name), :3], poses[VIEWS.index(name), 3:]

    def by_calibration(point):
        where = numpy.array([[point[0], point[1], 0.0]])
        return cv2.projectPoints(where, turn, shift, camera, distortion)[0].reshape(2)

    centre = cv2.Rodrigues(turn)[0] @ numpy.array([CENTRE[0], CENTRE[1], 0]) + shift
    return {
        'name': name,
        'width': int(grey.shape[1]),
        'height': int(grey.shape[0]),
        'corners': [[float(x) + 0.5, float(y) + 0.5] for x, y in outer],
        'fourCorners': slopes(by_homography),
        'calibrated': slopes(by_calibration),
        'distanceM': float(numpy.linalg.norm(centre)),
        'codes': [[c, r, int(grey[r, c])] for r in range(40, 480, 90) for c in range(30, 640, 110)],
    }


print(json.dumps([measured(name) for name in sys.argv[2:]]))
