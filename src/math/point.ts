/** An image point in px: x right, y down, (0,0) at the outer corner of the top-left pixel, whose centre is (0.5, 0.5). */
export type Point = readonly [x: number, y: number]

/** Four corners, clockwise as seen in the image, the first being the reference's own top left. */
export type Quad = readonly [Point, Point, Point, Point]

/** The two ends of a length. */
export type Ends = readonly [Point, Point]
