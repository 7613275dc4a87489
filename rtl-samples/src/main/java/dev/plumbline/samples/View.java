package dev.plumbline.samples;

/**
 * From where a picture is seen; z is up.
 *
 * @param eye where all rays begin
 * @param target what is in the middle
 * @param wide half the picture's width at a distance of 1
 */
record View(Point eye, Point target, double wide) {
  /** The direction through a point of the picture, -1 to 1 each way, of length 1. */
  Point through(double across, double up, double aspect) {
    Point ahead = target.minus(eye).unit();
    Point right = new Point(ahead.y(), -ahead.x(), 0).unit();
    Point above = right.cross(ahead);
    return ahead.plus(wide * across, right).plus(wide * up / aspect, above).unit();
  }
}
