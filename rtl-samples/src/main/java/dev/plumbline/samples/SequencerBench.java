package dev.plumbline.samples;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.regression.Regression;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Verdict;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * The ray sequencer as a contract has it: a case is a pixel and what its rays meet, the result its
 * colour and the rays that were asked. Camera, lamp and light follow from the seed and stand still.
 * What a ray meets is drawn, so that nothing of an executor's matters; distances keep surfaces near
 * enough to their solids that normals and directions stay within their format, as they do where a
 * surface was really met.
 */
final class SequencerBench {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final int SIDE = 64; // of the picture that pixels are drawn from
  private static final int NONE = 3; // of the axes
  private static final int LONGEST = 2_000; // cycles of a pixel with four rays that wait
  private static final String[] SETTINGS = {"eye", "corner", "step_x", "step_y"};

  /** {@code surface_of} and {@code table_of} of the module say the same. */
  private static final Program PROGRAM =
      solids(Program.builder(FORMATS, new ProgramLimits(1024, 4, 256)));

  private static final List<Material> MATERIALS =
      List.of(
          new Material(0xFFFFFF, 0),
          new Material(0xC08040, 0x80),
          new Material(0x102030, 0xFF),
          new Material(0xFEDCBA, 1),
          new Material(0x00FF7F, 0x40),
          new Material(0x808080, 0x7F),
          new Material(0xFF0001, 0xFE),
          new Material(0x123456, 0));

  private SequencerBench() {}

  private static Program solids(Program.Builder program) {
    program.begin().sphere(0, 16384, -32768, 65536, 524288).close();
    program.begin().sphere(1, -114688, 163840, 8192, 327680).close();
    program.begin().halfSpace(2, 39322, 0, 52429, 0).close();
    program.begin().halfSpace(3, 0, -65536, 0, 0).close();
    program.begin().box(4, -65536, -65536, -65536, 65536, 65536, 65536).close();
    program.begin().box(5, -65536, -65536, -65536, 65536, 65536, 65536).close();
    program.begin().sphere(6, 0, 0, 0, 1048576).close();
    program.begin().halfSpace(7, -43691, 43691, 21845, 0).close();
    return program.end().build();
  }

  static Verdict run(CompiledDesign model, String name, Regression.Settings to) {
    Lighting lighting = lighting(RandomStream.of(to.seed()));
    Reference reference =
        Reference.stateful("pixels by models.light", inputs(), outputs(), () -> light(lighting));
    Contract.Builder contract =
        Contract.of(reference)
            .valid("pixel_valid", "colour_valid")
            .ready("pixel_ready", "colour_ready")
            .reset("rst")
            .latencyBetween(1, LONGEST)
            .input("x", "pixel_x")
            .input("y", "pixel_y")
            .input("tag", "pixel_tag")
            .output("tag_of_pixel", "colour_tag");
    for (Operand output : outputs()) {
      for (String kind : List.of("mirror_shadow", "shadow", "mirror")) {
        if (output.name().matches(kind + "_(origin|direction|inverse)_.")) {
          contract.validWhen(output.name(), kind + "_ray");
        }
      }
    }
    hold(contract, lighting);
    return Bench.of(model)
        .named(name)
        .contract(contract.build())
        .stimulus(Stimulus.drawn(SequencerBench::draw))
        .cases(Math.max(1, to.cases() / 100))
        .seed(to.seed())
        .recorder(to.recorder())
        .repeat(to.repeat())
        .run();
  }

  private static SequencerCase light(Lighting lighting) {
    SequencerRays rays = new SequencerRays();
    return new SequencerCase(ExactLight.of(PROGRAM, lighting, rays), rays);
  }

  private static List<Operand> inputs() {
    List<Operand> inputs = new ArrayList<>();
    inputs.add(new Operand("x", Format.unsigned(12, 0)));
    inputs.add(new Operand("y", Format.unsigned(12, 0)));
    inputs.add(new Operand("tag", Format.unsigned(24, 0)));
    inputs.add(new Operand("wait_ray", Format.unsigned(4, 0)));
    inputs.add(new Operand("wait_result", Format.unsigned(4, 0)));
    for (String kind : List.of("primary", "mirror")) {
      inputs.add(new Operand(kind + "_hit", Format.bit()));
      inputs.add(new Operand(kind + "_distance", Format.unsigned(16, 16)));
      inputs.add(new Operand(kind + "_solid", Format.unsigned(3, 0)));
      inputs.add(new Operand(kind + "_face", Format.unsigned(3, 0)));
      String shadow = kind.equals("primary") ? "shadow" : "mirror_shadow";
      inputs.add(new Operand(shadow + "_hit", Format.bit()));
    }
    return inputs;
  }

  private static List<Operand> outputs() {
    List<Operand> outputs = new ArrayList<>();
    outputs.add(new Operand("colour", Format.unsigned(24, 0)));
    outputs.add(new Operand("tag_of_pixel", Format.unsigned(24, 0)));
    outputs.add(new Operand("shadow_ray", Format.bit()));
    outputs.add(new Operand("mirror_ray", Format.bit()));
    outputs.add(new Operand("mirror_shadow_ray", Format.bit()));
    outputs.add(new Operand("asked_well", Format.bit()));
    for (SequencerRays.Kind kind : SequencerRays.Kind.values()) {
      String ray = kind.name().toLowerCase(Locale.ROOT);
      axes(outputs, ray + "_origin", FORMATS.word());
      axes(outputs, ray + "_direction", FORMATS.direction());
      if (!kind.isShadow()) {
        axes(outputs, ray + "_inverse", FORMATS.word());
      }
    }
    return outputs;
  }

  private static void axes(List<Operand> outputs, String name, Format format) {
    for (char axis : "xyz".toCharArray()) {
      outputs.add(new Operand(name + "_" + axis, format));
    }
  }

  /** A pixel of the picture, distances up to 1.5, and what is met, so that every kind is common. */
  private static void draw(RandomStream chance, long[] words) {
    Arrays.fill(words, 0);
    words[0] = chance.below(SIDE);
    words[1] = chance.below(SIDE);
    words[2] = chance.next();
    words[3] = chance.chance(0.5) ? 0 : chance.next();
    words[4] = chance.chance(0.5) ? 0 : chance.next();
    for (int ray = 0; ray < 2; ray++) {
      int at = 5 + 5 * ray;
      words[at] = chance.chance(0.85) ? 1 : 0;
      words[at + 1] = chance.below(3 << 15);
      words[at + 2] = chance.next();
      words[at + 3] = chance.below(6);
      words[at + 4] = chance.chance(0.4) ? 1 : 0;
    }
  }

  /** An eye within 1 of the middle, views of 1/3 to 3 in a direction by chance. */
  private static Lighting lighting(RandomStream chance) {
    // For most seeds one component is next to nothing: parallel, or as steep as inverses saturate.
    int steep = chance.below(NONE + 1);
    double size = Math.exp((2 * chance.unit() - 1) * Math.log(2.5));
    long[] towards = direction(chance, size, steep);
    long[] side = direction(chance, 0.1 / SIDE, steep);
    long[] other = direction(chance, 0.1 / SIDE, steep);
    if (steep < NONE) {
      other[steep] = 1;
    }
    long[] corner = new long[3];
    for (int k = 0; k < corner.length; k++) {
      corner[k] = towards[k] - SIDE / 2 * (side[k] + other[k]);
    }
    Camera camera = Camera.of(FORMATS.word(), direction(chance, 1, NONE), corner, side, other);
    return Lighting.of(FORMATS, camera, new double[] {0, 0, 1})
        .withLamp(direction(chance, 1, NONE))
        .withEpsilon(1 + chance.below(2000))
        .withAmbient(chance.below(200))
        .withBackground(chance.below(1 << 24))
        .withMaterials(MATERIALS);
  }

  /** Of a length, with 16 fraction bits, across an axis. */
  private static long[] direction(RandomStream chance, double length, int across) {
    double[] vector = new double[3];
    double square = 0;
    while (square < 0.01 || square > 1) {
      square = 0;
      for (int k = 0; k < vector.length; k++) {
        vector[k] = k == across ? 0 : 2 * chance.unit() - 1;
        square += vector[k] * vector[k];
      }
    }
    double factor = 65536 * length / Math.sqrt(square);
    return Arrays.stream(vector).mapToLong(part -> Math.round(part * factor)).toArray();
  }

  private static void hold(Contract.Builder contract, Lighting lighting) {
    Camera camera = lighting.camera();
    for (int k = 0; k < 3; k++) {
      String axis = "_" + "xyz".charAt(k);
      long[] codes = {camera.eye(k), camera.corner(k), camera.right(k), camera.down(k)};
      for (int i = 0; i < SETTINGS.length; i++) {
        contract.hold(SETTINGS[i] + axis, codes[i]);
      }
      contract.hold("lamp" + axis, lighting.lamp(k));
    }
    contract
        .hold("epsilon", lighting.epsilon())
        .hold("ambient", lighting.ambient())
        .hold("background", lighting.background());
  }
}
