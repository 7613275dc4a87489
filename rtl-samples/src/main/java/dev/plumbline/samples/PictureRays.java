package dev.plumbline.samples;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.Traversal;
import java.util.ArrayList;
import java.util.List;

/**
 * The rays of a small picture: from the eye through each pixel to the nearest surface, and from
 * each surface found towards the lamp, to any surface before it. Where surfaces are is the model's
 * word; what rays find from there is judged as ever.
 */
final class PictureRays {
  /** How far from its own surface a shadow ray begins, in words. */
  private static final double OFF = 1.0 / 64;

  private final Program program;
  private final int spans;
  private final View view;
  private final SceneFormats formats;

  PictureRays(Program program, int spans, View view) {
    this.program = program;
    this.spans = spans;
    this.view = view;
    this.formats = program.formats();
  }

  /** Three pixels high for each four wide; primary rays from the top row down, then shadow rays. */
  Rays with(Point lamp, double lampRadius, long pixels) {
    int high = Math.max(1, (int) Math.sqrt(0.75 * pixels));
    int wide = Math.max(1, (int) (pixels / high));
    Rays primary = primary(wide, high);
    List<Point> surfaces = surfaces(primary);
    Rays all = Rays.of(formats, wide * high + surfaces.size());
    for (String name : Rays.names()) {
      System.arraycopy(primary.column(name), 0, all.column(name), 0, wide * high);
    }
    for (int i = 0; i < surfaces.size(); i++) {
      shadow(all, wide * high + i, surfaces.get(i), lamp, lampRadius);
    }
    return all;
  }

  private Rays primary(int wide, int high) {
    Rays rays = Rays.of(formats, wide * high);
    long[] eye = view.eye().codes(formats.word());
    for (int row = 0; row < high; row++) {
      for (int column = 0; column < wide; column++) {
        double across = (2 * column + 1.0) / wide - 1;
        double up = 1 - (2 * row + 1.0) / high;
        Point through = view.through(across, up, 4 / 3.0);
        rays.nearest(row * wide + column, 0, eye, through.codes(formats.direction()));
      }
    }
    return rays;
  }

  /** Where rays end that find something. */
  private List<Point> surfaces(Rays rays) {
    List<Point> surfaces = new ArrayList<>();
    Traversal.exact(SceneUnits.of(formats), spans)
        .run(
            program,
            rays,
            0,
            rays.capacity(),
            null,
            observed -> {
              if (observed.isLast() && observed.isFound()) {
                Point origin = vector(rays, "origin", observed.ray(), formats.word());
                Point direction = vector(rays, "direction", observed.ray(), formats.direction());
                surfaces.add(origin.plus(observed.distance() * formats.word().lsbs(), direction));
              }
            });
    return surfaces;
  }

  private static Point vector(Rays rays, String lead, int ray, Format format) {
    double last = format.lsbs();
    return new Point(
        last * rays.column(lead + "_x")[ray],
        last * rays.column(lead + "_y")[ray],
        last * rays.column(lead + "_z")[ray]);
  }

  private void shadow(Rays rays, int ray, Point surface, Point lamp, double lampRadius) {
    Format word = formats.word();
    Point way = lamp.minus(surface);
    double limit = Math.max(0, way.length() - lampRadius - OFF);
    rays.nearest(
        ray,
        Math.round(OFF / word.lsbs()),
        surface.codes(word),
        way.unit().codes(formats.direction()));
    rays.anyHit(ray, Math.round(limit / word.lsbs()));
  }
}
