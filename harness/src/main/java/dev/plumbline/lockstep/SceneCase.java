package dev.plumbline.lockstep;

import dev.plumbline.contract.ContractException;
import dev.plumbline.drive.CaseModule;
import dev.plumbline.drive.Engine;
import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.lockstep.SceneScript.Ray;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramException;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Design;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.KeptCase.Column;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Set;

/**
 * Scripts as cases that are kept, and back: a row for each reset, operation and ray. Operations are
 * in words and real numbers, so that a case outlives another encoding.
 */
final class SceneCase {
  private static final String RESET = "reset";
  private static final String PAUSE = "pause";
  private static final String STALL = "stall";
  private static final String CUT = "cut";
  private static final String ABORT = "abort";
  private static final List<String> STEPS = List.of(RESET, PAUSE, STALL, CUT, ABORT);

  /** Columns that a case kept long ago may lack. */
  private static final Set<String> LATER = Set.of(ABORT, "tag");

  private static final String REFERENCE = "scene program";

  private final Executor executor;
  private final Design design;

  SceneCase(Executor executor, Design design) {
    this.executor = executor;
    this.design = design;
  }

  KeptCase keep(SceneScript script, String bench, String shows) {
    List<Column> columns = new ArrayList<>();
    STEPS.forEach(step -> columns.add(Column.port(step)));
    Rays.names()
        .forEach(name -> columns.add(Column.of(name, Ports.rayFormat(name, executor.formats()))));
    List<List<BigInteger>> rows = new ArrayList<>();
    List<String> operations = new ArrayList<>();
    for (Part part : script.parts()) {
      if (part.resets() > 0) {
        operations.add("");
        rows.add(row(columns.size(), part.resets()));
      }
      for (Operation operation :
          part.loads() ? part.program().operations() : List.<Operation>of()) {
        operations.add(operation.text(executor.formats()));
        rows.add(row(columns.size()));
      }
      for (int ray = 0; ray < part.rays().size(); ray++) {
        Ray one = part.rays().get(ray);
        boolean isCut = part.cut() >= 0 && ray == part.rays().size() - 1;
        List<BigInteger> row = row(columns.size());
        row.set(STEPS.indexOf(PAUSE), BigInteger.valueOf(one.pause()));
        row.set(STEPS.indexOf(STALL), BigInteger.valueOf(one.stall()));
        row.set(
            STEPS.indexOf(part.aborts() ? ABORT : CUT),
            isCut ? BigInteger.valueOf(part.cut()) : null);
        for (int column = 0; column < one.codes().length; column++) {
          row.set(STEPS.size() + column, BigInteger.valueOf(one.codes()[column]));
        }
        operations.add("");
        rows.add(row);
      }
    }
    return new KeptCase(
        bench,
        design.top(),
        CaseModule.parameters(design),
        REFERENCE,
        shows,
        script.seed(),
        KeptCase.Start.valueOf(script.start().name()),
        script.state(),
        columns,
        rows,
        operations);
  }

  private static List<BigInteger> row(int width, long... first) {
    List<BigInteger> row = new ArrayList<>(Collections.nCopies(width, null));
    for (int i = 0; i < first.length; i++) {
      row.set(i, BigInteger.valueOf(first[i]));
    }
    return row;
  }

  /** What is read of a file, part by part. */
  private final class Reading {
    private final KeptCase kept;
    private final List<String> names;
    private final List<Part> parts = new ArrayList<>();
    private Program program;
    private int resets;
    private boolean loads;
    private List<Operation> operations = new ArrayList<>();
    private List<Ray> rays = new ArrayList<>();

    Reading(KeptCase kept) {
      this.kept = kept;
      this.names = kept.columns().stream().map(Column::name).toList();
    }

    List<Part> parts() {
      for (int step = 0; step < kept.cycles().size(); step++) {
        step(step);
      }
      endPart(SceneScript.NO_CUT, false);
      return parts;
    }

    private void step(int step) {
      String operation = kept.operations().get(step);
      long reset = number(step, RESET, 0);
      if (reset > 0 || !operation.isEmpty()) {
        if (!rays.isEmpty() || (reset > 0 && !operations.isEmpty())) {
          endPart(SceneScript.NO_CUT, false);
        }
        resets += (int) reset;
        if (!operation.isEmpty()) {
          add(step, operation);
        }
        return;
      }
      rays.add(new Ray((int) number(step, PAUSE, 0), (int) number(step, STALL, 0), codes(step)));
      long abort = number(step, ABORT, SceneScript.NO_CUT);
      long cut = abort >= 0 ? abort : number(step, CUT, SceneScript.NO_CUT);
      if (cut >= 0 || rays.size() == Block.RAYS) {
        endPart((int) cut, abort >= 0);
      }
    }

    private void add(int step, String text) {
      try {
        operations.add(Operation.parse(text, executor.formats()));
        loads = true;
      } catch (IllegalArgumentException e) {
        throw new ContractException(
            "Kept case of \"" + kept.bench() + "\", step " + step + ": " + e.getMessage(), e);
      }
    }

    private void endPart(int cut, boolean aborts) {
      if (loads) {
        try {
          program = Program.of(executor.formats(), executor.limits(), operations);
        } catch (ProgramException e) {
          throw new ContractException(
              "Kept case of \""
                  + kept.bench()
                  + "\": its program cannot be run: "
                  + e.getMessage()
                  + ". Mend the file, or take it away where the limits have changed on purpose.",
              e);
        }
      }
      if (program == null && !rays.isEmpty()) {
        throw CaseModule.refused(
            kept, "there is a ray before any program", "operations before the first ray");
      }
      if (program != null) {
        parts.add(new Part(resets, loads, program, rays, cut, aborts));
        resets = 0;
        loads = false;
        operations = new ArrayList<>();
        rays = new ArrayList<>();
      }
    }

    private long number(int step, String name, long otherwise) {
      BigInteger code = code(step, name);
      if (code == null) {
        return otherwise;
      }
      if (code.signum() < 0 || code.bitLength() > 20) {
        throw CaseModule.refused(
            kept, "step " + step + " has " + name + " " + code, "0 to 1048575 cycles");
      }
      return code.longValueExact();
    }

    private BigInteger code(int step, String name) {
      int column = names.indexOf(name);
      return column < 0 ? null : kept.cycles().get(step).get(column);
    }

    private long[] codes(int step) {
      long[] codes = new long[Rays.names().size()];
      for (int column = 0; column < codes.length; column++) {
        String name = Rays.names().get(column);
        BigInteger code = code(step, name);
        Format format = Ports.rayFormat(name, executor.formats());
        BigInteger wrapped = code == null ? BigInteger.ZERO : code;
        if (format.signed()
            && wrapped.compareTo(format.maxCode()) > 0
            && wrapped.bitLength() <= format.width()) {
          wrapped = wrapped.subtract(BigInteger.ONE.shiftLeft(format.width()));
        }
        if (!format.holds(wrapped)) {
          throw CaseModule.refused(
              kept,
              "step " + step + " has " + name + " " + code,
              CodeText.hex(format, format.minCode())
                  + " to "
                  + CodeText.hex(format, format.maxCode())
                  + " in "
                  + format);
        }
        codes[column] = wrapped.longValueExact();
      }
      return codes;
    }
  }

  /**
   * A case that was kept, as a script.
   *
   * @throws ContractException when it is of another module, or lacks something, or has a number
   *     that the executor cannot have
   */
  SceneScript script(KeptCase kept) {
    CaseModule.require(kept, design);
    List<String> names = kept.columns().stream().map(Column::name).toList();
    List<String> known = new ArrayList<>(STEPS);
    known.addAll(Rays.names());
    known.removeAll(LATER);
    for (String name : known) {
      if (!names.contains(name)) {
        throw CaseModule.refused(
            kept, "column \"" + name + "\" is missing", String.join(", ", known));
      }
    }
    if (kept.operations().isEmpty()) {
      throw CaseModule.refused(
          kept, "it has no column of operations", "a case of a scene executor");
    }
    return new SceneScript(
        Engine.Start.valueOf(kept.start().name()),
        kept.seed(),
        kept.state(),
        new Reading(kept).parts());
  }
}
