package dev.plumbline.models.traversal;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import java.util.ArrayList;
import java.util.List;

/**
 * Finds the spans of all a program's solids, for some thousand cases at a time, before rays walk
 * through the program.
 */
final class SolidBlock {
  private static final int BLOCK = 1024;
  private static final int LARGEST = 1 << 20;

  /** Makes an evaluation of a unit for so many cases. */
  interface Maker {
    SolidColumns.Evaluation of(Datapath unit, int capacity);
  }

  /** What is done with a ray whose ends stand from a base on, in the order of addresses. */
  interface Walk {
    void ray(int ray, int base);
  }

  private final SceneUnits units;
  private final Maker maker;
  private final List<Datapath> datapaths;
  private final List<SolidColumns> columns = new ArrayList<>();
  private final EndColumns[] ends;
  private int capacity = BLOCK;
  private Program found; // whose operations stand in the columns; null before the first
  private int most; // operations of it that one unit evaluates
  private int loaded; // rays for which they stand there

  /** With so many sets of ends as the maker's evaluations give. */
  SolidBlock(SceneUnits units, Maker maker, int sets) {
    this.units = units;
    this.maker = maker;
    this.datapaths = List.of(units.sphere(), units.halfSpace(), units.box());
    this.ends = new EndColumns[sets];
    for (int i = 0; i < sets; i++) {
      ends[i] = new EndColumns();
    }
    makeColumns();
  }

  private void makeColumns() {
    columns.clear();
    datapaths.forEach(unit -> columns.add(new SolidColumns(unit, maker.of(unit, capacity))));
  }

  EndColumns ends(int set) {
    return ends[set];
  }

  SceneFormats formats() {
    return units.formats();
  }

  /** Passes rays to a walk, one after the other. */
  void run(Program program, Rays rays, int from, int count, Walk walk) {
    if (!program.formats().equals(units.formats()) || !rays.formats().equals(units.formats())) {
      throw new IllegalArgumentException(
          "Traversal in "
              + units.formats()
              + " of a program in "
              + program.formats()
              + " and rays in "
              + rays.formats()
              + ": all have to be the same.");
    }
    if (!program.equals(found)) {
      most = find(program);
      if (most > capacity) {
        capacity = most;
        makeColumns();
        find(program);
      }
      found = program;
      loaded = 0;
    }
    int length = program.length();
    int atOnce =
        Math.max(1, Math.min(Math.min(count, capacity / most), Math.max(1, LARGEST / length)));
    if (atOnce > loaded) {
      for (EndColumns set : ends) {
        set.makeRoom(atOnce * length);
      }
      for (SolidColumns solids : columns) {
        solids.load(program, atOnce);
      }
      loaded = atOnce;
    }
    for (int ray = from; ray < from + count; ray += atOnce) {
      int some = Math.min(atOnce, from + count - ray);
      for (SolidColumns solids : columns) {
        solids.run(rays, ray, some, length, ends);
      }
      for (int k = 0; k < some; k++) {
        walk.ray(ray + k, k * length);
      }
    }
  }

  /** The most operations of one unit. */
  private int find(Program program) {
    int most = 1;
    for (int i = 0; i < datapaths.size(); i++) {
      most = Math.max(most, columns.get(i).find(program, units, datapaths.get(i)));
    }
    return most;
  }
}
