"""Prints, as JSON, the rays OpenCV's fisheye model gives image points of an equidistant lens (all four distortion coefficients 0: r = f theta).

Arguments: focal length px, centre x, centre y (corner-based), then x y pairs. OpenCV counts from the centre of the top-left pixel, so half a
pixel is taken off at the border to it. Each ray is printed as its tangents (x/z, y/z).
"""
import json
import sys

import cv2
import numpy

focal, centre_x, centre_y, *flat = (float(each) for each in sys.argv[1:])
points = numpy.array(flat).reshape(-1, 1, 2) - 0.5
camera = numpy.array([[focal, 0, centre_x - 0.5], [0, focal, centre_y - 0.5], [0, 0, 1]])
print(json.dumps(cv2.fisheye.undistortPoints(points, camera, numpy.zeros(4)).reshape(-1, 2).tolist()))
