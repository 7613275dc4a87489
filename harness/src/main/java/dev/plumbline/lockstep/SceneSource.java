package dev.plumbline.lockstep;

import dev.plumbline.cases.RandomScenes;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;

/** Where the programs and rays of a bench come from. */
interface SceneSource {
  /** The next program; where it equals the one before, the memory holds it already. */
  Program next();

  /** Fills rays of the latest program; the first has a number over the whole run. */
  void rays(Rays to, int count, long firstCase);

  /** Whether a reset may drop a ray, which is not offered again. */
  boolean mayDrop();

  /** Programs and rays by chance. */
  static SceneSource of(RandomScenes scenes) {
    return new SceneSource() {
      @Override
      public Program next() {
        return scenes.next();
      }

      @Override
      public void rays(Rays to, int count, long firstCase) {
        scenes.rays(to, 0, count);
      }

      @Override
      public boolean mayDrop() {
        return true;
      }
    };
  }

  /** One program and its rays, in order, again from the first when they run out. */
  static SceneSource of(Program program, Rays rays) {
    return new SceneSource() {
      @Override
      public Program next() {
        return program;
      }

      @Override
      public void rays(Rays to, int count, long firstCase) {
        for (String name : Rays.names()) {
          long[] from = rays.column(name);
          long[] column = to.column(name);
          for (int ray = 0; ray < count; ray++) {
            column[ray] = from[(int) ((firstCase + ray) % rays.capacity())];
          }
        }
      }

      @Override
      public boolean mayDrop() {
        return false;
      }
    };
  }
}
