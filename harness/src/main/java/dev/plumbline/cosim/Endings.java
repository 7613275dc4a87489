package dev.plumbline.cosim;

import dev.plumbline.rtl.SourceLocation;
import java.util.List;

/** Turns the status with which a call ended into the exception that ends a DUT. */
final class Endings {
  private static final int FINISH = 1;
  private static final List<DutEndedException.Kind> KINDS =
      List.of(
          DutEndedException.Kind.FINISH,
          DutEndedException.Kind.STOP,
          DutEndedException.Kind.ERROR,
          DutEndedException.Kind.FATAL,
          DutEndedException.Kind.ASSERTION,
          DutEndedException.Kind.NOT_SETTLED,
          DutEndedException.Kind.MEMORY_FILE);

  private Endings() {}

  /** A model that could not be made. */
  static DutException notMade(CompiledDesign model, DutOptions options, LiveDesign instance) {
    return of(model, options, instance, KINDS.size() + 1);
  }

  static DutException of(
      CompiledDesign model, DutOptions options, LiveDesign instance, int status) {
    String module = "Module " + model.design().top();
    ControlBlock control = instance.control();
    long cycles = control.cycles();
    String text = DumpNotice.in(instance.text());
    if (status == LiveDesign.CANCELLED) {
      return new DutHungException(module, options.timeout(), cycles, text);
    }
    SourceLocation location = location(model, control, status);
    if (status == LiveDesign.CRASHED) {
      return DutEndedException.crashed(module, instance.ending(), control.message(), cycles, text);
    }
    return new DutEndedException(
        module,
        status <= KINDS.size() ? KINDS.get(status - 1) : DutEndedException.Kind.INTERNAL,
        location,
        control.message(),
        status == FINISH ? Math.max(0, cycles - 1) : cycles,
        text);
  }

  private static SourceLocation location(CompiledDesign model, ControlBlock control, int status) {
    String file = control.file();
    SourceLocation said = new SourceLocation(model.sourceName(file), control.line());
    boolean ofMemory =
        status > 0
            && status <= KINDS.size()
            && KINDS.get(status - 1) == DutEndedException.Kind.MEMORY_FILE;
    // Where the file itself is at fault the line is the file's, and counts from 1.
    return ofMemory && control.line() == 0
        ? MemoryFileLines.of(model.sources(), file).orElse(said)
        : said;
  }
}
