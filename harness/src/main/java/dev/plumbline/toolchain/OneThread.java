package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Pattern;

/**
 * Takes calls out of the generated code that matter only to a model with threads of its own: they
 * keep the messages of those apart until an evaluation is over. Each looks up a variable of the
 * thread, for which a shared library has to call the dynamic linker; of a small design three such
 * calls take a fifth of an evaluation.
 */
final class OneThread {
  private static final Pattern OF_THREADS =
      Pattern.compile("Verilated::mtaskId\\((?!0\\))|__Vmtask|VlThreadPool");
  private static final Pattern CALLS =
      Pattern.compile(
          "Verilated::(mtaskId\\(0\\)|(endOfThreadMTask|endOfEval)\\(vlSymsp->__Vm_evalMsgQp\\));");

  private OneThread() {}

  /** The file's text without those calls; the same where the model has threads. */
  static String of(String code) {
    return OF_THREADS.matcher(code).find() ? code : CALLS.matcher(code).replaceAll("");
  }

  /** Takes them out of the class that is called from outside, which has them all. */
  static void tidy(Path folder) throws IOException {
    Path file = folder.resolve(VerilatorArguments.PREFIX + ".cpp");
    String code = Files.readString(file, StandardCharsets.ISO_8859_1);
    Files.writeString(file, of(code), StandardCharsets.ISO_8859_1);
  }
}
