package dev.plumbline.cosim;

import com.sun.jna.Native;
import com.sun.jna.NativeLibrary;
import com.sun.jna.Pointer;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowRunner;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.LongBuffer;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** A program over rows as machine code, with native columns of its own to work on. */
final class NativeRows implements RowRunner {
  private static final int LINE = 64; // bytes of a cache line

  /**
   * A library, loaded.
   *
   * @param library stays loaded as long as this
   * @param rows where its program is
   */
  record Code(NativeLibrary library, long rows) {
    static Code load(Path file) {
      NativeLibrary library = NativeDesign.library(file);
      Through.bind(library);
      return new Code(library, Pointer.nativeValue(library.getFunction("plumb_rows")));
    }

    boolean isAble() {
      return library.getFunction("plumb_rows_able").invokeInt(new Object[0]) != 0;
    }
  }

  /** Calls programs without an object for each argument, which blocks of few rows would notice. */
  private static final class Through {
    private static NativeLibrary bound; // any will do

    private Through() {}

    static synchronized void bind(NativeLibrary library) {
      if (bound == null) {
        Native.register(Through.class, library);
        bound = library;
      }
    }

    static native void plumb_rows_through(
        long program, long columns, long stride, long from, long count);
  }

  private final Code code;
  private final List<long[]> inputs;
  private final List<long[]> outputs;
  private final int firstOutput;
  private final int stride;
  private final ByteBuffer memory; // has to live as long as this
  private final LongBuffer words;
  private final long address;

  NativeRows(Code code, RowProgram program) {
    this.code = code;
    this.inputs = program.inputs();
    this.outputs = program.outputs();
    this.firstOutput = inputs.size() + program.kept().size();
    int capacity =
        Stream.of(inputs, program.kept(), outputs)
            .flatMap(List::stream)
            .mapToInt(column -> column.length)
            .max()
            .orElse(0);
    // As a batch has its columns: not a power of two apart, and room for the last rows at once.
    this.stride = (capacity + 7) / 8 * 8 + 8;
    int bytes = (firstOutput + outputs.size()) * stride * Long.BYTES;
    this.memory =
        ByteBuffer.allocateDirect(bytes + LINE).alignedSlice(LINE).order(ByteOrder.nativeOrder());
    this.words = memory.asLongBuffer();
    this.address = Pointer.nativeValue(Native.getDirectBufferPointer(memory));
    for (int k = 0; k < program.kept().size(); k++) {
      words.put((inputs.size() + k) * stride, program.kept().get(k));
    }
  }

  @Override
  public void run(long state, int count) {
    for (int k = 0; k < inputs.size(); k++) {
      words.put(k * stride, inputs.get(k), 0, count);
    }
    Through.plumb_rows_through(code.rows(), address, stride, state, count);
    for (int k = 0; k < outputs.size(); k++) {
      words.get((firstOutput + k) * stride, outputs.get(k), 0, count);
    }
  }
}
