package dev.plumbline.lockstep;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Foreseen;
import dev.plumbline.models.traversal.Rays;
import java.util.ArrayList;
import java.util.List;

/**
 * A ray that was accepted: its operations as they are due to retire, and what it has of its own.
 */
final class RayInHand {
  final Program program;
  final long accepted; // row
  final List<RetiredOperation> due = new ArrayList<>();
  final Foreseen[] foreseen; // by address; null for what is no solid and no skip
  final long[] codes; // by name, as Rays.names()
  long start; // what surfaces have to lie beyond
  long limit;
  boolean anyHit;

  RayInHand(Program program, Rays rays, int ray, long accepted) {
    this.program = program;
    this.accepted = accepted;
    this.foreseen = new Foreseen[program.length()];
    this.codes = Rays.names().stream().mapToLong(name -> rays.column(name)[ray]).toArray();
  }

  long code(String name) {
    return codes[Rays.names().indexOf(name)];
  }
}
