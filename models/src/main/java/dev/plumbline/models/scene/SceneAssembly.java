package dev.plumbline.models.scene;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.Location;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramException;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/** Makes a program of a scene. */
final class SceneAssembly {
  private final Scene scene;
  private final SceneFormats formats;
  private final Program.Builder program;

  /** What each operation comes from. */
  private final List<Object> origins = new ArrayList<>();

  SceneAssembly(Scene scene, SceneFormats formats, ProgramLimits limits) {
    this.scene = scene;
    this.formats = formats;
    this.program = Program.builder(formats, limits);
  }

  Program assemble() {
    scene.items().forEach(this::item);
    program.end();
    try {
      return program.build();
    } catch (ProgramException e) {
      int last = Math.min(e.address(), origins.size() - 1);
      Object origin = last < 0 ? scene : origins.get(last);
      throw fault(origin, e.getMessage(), e);
    }
  }

  private void add(Object origin, Operation operation) {
    program.add(operation);
    origins.add(origin);
  }

  private void item(Scene.Item item) {
    if (item instanceof Scene.Within within) {
      Program.Label past = program.label();
      program.skip(past, codes(within, OperationKind.SKIP, within.box()));
      origins.add(within);
      within.items().forEach(this::item);
      program.place(past);
    } else if (item instanceof Scene.Piece piece) {
      add(piece, Operation.of(OperationKind.BEGIN));
      solid(piece.solid());
      add(piece, Operation.of(OperationKind.CLOSE));
    }
  }

  private void solid(Scene.Solid solid) {
    if (solid instanceof Scene.Primitive p) {
      add(p, Operation.solid(p.kind(), p.material(), codes(p, p.kind(), p.numbers())));
    } else if (solid instanceof Scene.Part part) {
      solid(part.first());
      for (Scene.Step step : part.steps()) {
        solid(step.solid());
        add(step.solid(), Operation.of(OperationKind.of(step.operator())));
      }
    }
  }

  private long[] codes(Object origin, OperationKind kind, List<BigDecimal> numbers) {
    long[] codes = new long[numbers.size()];
    for (int i = 0; i < codes.length; i++) {
      String name = kind.operands().get(i);
      boolean isLength = !OperationKind.isDirection(name);
      Format format = formats.operand(name);
      BigDecimal unit = isLength ? scene.unit() : null;
      BigInteger code = SceneNumbers.code(numbers.get(i), unit, format);
      if (!format.holds(code)) {
        String mm = unit == null ? "" : " mm";
        throw fault(
            origin,
            kind
                + " with "
                + name
                + " "
                + numbers.get(i).toPlainString()
                + mm
                + scene.placeOf(origin)
                + ": "
                + format
                + " holds "
                + SceneNumbers.number(format.minCode(), unit, format).toPlainString()
                + mm
                + " to "
                + SceneNumbers.number(format.maxCode(), unit, format).toPlainString()
                + mm
                + (isLength
                    ? "; bring it nearer to the middle or choose a larger unit"
                    : "; make the normal shorter"),
            null);
      }
      codes[i] = code.longValue();
    }
    return codes;
  }

  private TextException fault(Object origin, String message, Throwable cause) {
    Location place = scene.placeOf(origin);
    String where = cause == null ? "" : place.line() == 0 ? "" : "what stands" + place + ": ";
    return new TextException(place, "scene: " + where + message, cause);
  }
}
