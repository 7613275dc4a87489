package dev.plumbline.lockstep;

import dev.plumbline.cases.DirectedScenes;
import dev.plumbline.cases.RandomScenes;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import java.util.List;

/** Where the programs and rays of a bench come from. */
interface SceneSource {
  /** The next program; where it equals the one before, the memory holds it already. */
  Program next();

  /** Fills rays of the latest program; the first has a number over the whole run. */
  void rays(Rays to, int count, long firstCase);

  /**
   * How many rays of the next program are constructed; 0 where chance draws it and its rays.
   *
   * @param firstCase the number of its first ray over the whole run
   */
  default int constructed(long firstCase) {
    return 0;
  }

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

  /**
   * Constructed scenes from a ray on, one after the other; programs by chance before and behind.
   */
  static SceneSource of(RandomScenes scenes, List<DirectedScenes.Scene> directed, long fromCase) {
    SceneSource byChance = of(scenes);
    return new SceneSource() {
      private int taken;
      private DirectedScenes.Scene scene; // null where chance drew the latest

      @Override
      public int constructed(long firstCase) {
        boolean next = firstCase >= fromCase && taken < directed.size();
        scene = next ? directed.get(taken) : null;
        return next ? scene.rays().capacity() : 0;
      }

      @Override
      public Program next() {
        taken += scene == null ? 0 : 1;
        return scene == null ? byChance.next() : scene.program();
      }

      @Override
      public void rays(Rays to, int count, long firstCase) {
        if (scene == null) {
          byChance.rays(to, count, firstCase);
          return;
        }
        for (String name : Rays.names()) {
          System.arraycopy(scene.rays().column(name), 0, to.column(name), 0, count);
        }
      }

      @Override
      public boolean mayDrop() {
        return scene == null;
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
