package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/** What every datapath of a sphere begins and ends with: operands, decisions, normals, results. */
abstract class SphereFrame {
  final Sphere sphere;
  final Format word;
  final Datapath.Builder b;
  final Vectors vectors;
  final Value[] origin;
  final Value[] centre;
  final Value radius;
  final Value[] direction;
  final Value zero;

  SphereFrame(Sphere sphere, String name) {
    this.sphere = sphere;
    this.word = sphere.word();
    this.b = Datapath.named(name);
    this.vectors = new Vectors(b);
    this.origin = vectors.inputs("origin", word);
    this.centre = vectors.inputs("centre", word);
    this.radius = b.input("radius", word);
    this.direction = vectors.inputs("direction", sphere.direction());
    this.zero = b.constant("zero", word, 0);
  }

  /** A distance brought into a word. */
  Value distance(String name, Value value) {
    return b.convert(name, value, word, Rounding.HALF_CEILING, Overflow.SATURATE);
  }

  /** Whether the ray's line meets the sphere, and what it gives: two decisions and two words. */
  record Crossing(Value meets, Value hit, Value inside, Value entry, Value exit) {}

  /** Decides by a discriminant and the distances that go with it. */
  final Crossing decide(String suffix, Value discriminant, Value entry, Value exit) {
    Value meets = meets(suffix, b.atMost("close" + suffix, zero, discriminant));
    Value hit = b.and("hit" + suffix, meets, b.atMost("ahead" + suffix, zero, exit));
    Value begun = b.lessThan("begun" + suffix, entry, zero);
    return new Crossing(meets, hit, b.and("inside" + suffix, hit, begun), entry, exit);
  }

  /** One formula or another. */
  final Crossing either(Crossing first, Crossing other) {
    return new Crossing(
        b.either("meets", first.meets(), other.meets()),
        b.either("hit", first.hit(), other.hit()),
        b.either("inside", first.inside(), other.inside()),
        b.either("entry", first.entry(), other.entry()),
        b.either("exit", first.exit(), other.exit()));
  }

  private Value meets(String suffix, Value close) {
    return switch (sphere.negativeRadius()) {
      case MISSED ->
          b.and("meets" + suffix, close, b.atMost("not_negative" + suffix, zero, radius));
      case SQUARED -> close;
    };
  }

  /** The entry as it is declared. */
  private Value reported(Value entry, Value exit) {
    return switch (sphere.entry()) {
      case CROSSING -> entry;
      case NOT_NEGATIVE -> b.select("nearest", b.atMost("entry_ahead", zero, entry), entry, exit);
      case POSITIVE -> b.select("nearest", b.lessThan("entry_ahead", zero, entry), entry, exit);
    };
  }

  /** Adds the normals if wanted, and ends the description. */
  final Datapath finish(Crossing crossing, Value[] offset) {
    Value entry = reported(crossing.entry(), crossing.exit());
    b.output("hit", crossing.hit()).output("inside", crossing.inside());
    b.output("entry", entry).output("exit", crossing.exit());
    if (sphere.inverse() != null) {
      Value inverse = b.unit("inverse", sphere.inverse().unit(), radius);
      normal("entry", entry, offset, inverse);
      normal("exit", crossing.exit(), offset, inverse);
    }
    return b.build();
  }

  /** (distance * direction - offset) / radius. */
  private void normal(String at, Value distance, Value[] offset, Value inverse) {
    vectors.each(
        at + "_normal",
        (name, axis) -> {
          Value product = b.multiply(name + "_product", distance, direction[axis]);
          Value reach = reach(name + "_reach", product);
          Value arm = b.subtract(name + "_arm", reach, offset[axis]);
          Value full = ratio(name + "_full", b.multiply(name + "_ratio", arm, inverse));
          Format format = sphere.direction();
          Value normal = b.convert(name, full, format, Rounding.HALF_CEILING, Overflow.SATURATE);
          b.output(normal);
          return normal;
        });
  }

  /** How a way along the ray is rounded. */
  abstract Value reach(String name, Value product);

  /** What a normal may be off before it is rounded. */
  abstract Value ratio(String name, Value product);
}
