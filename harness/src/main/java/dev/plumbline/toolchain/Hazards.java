package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * What a design may do to the process it runs in that no hook of ours turns into an exception: code
 * of its own in C, waiting for input, recursion without end, memory without end.
 */
final class Hazards {
  private static final Pattern OWN_C =
      Pattern.compile(
          "<(uc(func|stmt)|sc(hdr|imp|imphdr|int|ctor|dtor)|systemcsection) "
              + "|\"(UCFUNC|UCSTMT|CEXPRUSER|CSTMTUSER|SC(HDR|IMP|IMPHDR|INT|CTOR|DTOR)"
              + "|SYSTEMCSECTION)\"");
  private static final Map<Pattern, String> CALLS = new LinkedHashMap<>();

  static {
    CALLS.put(
        Pattern.compile("\\bVL_(FGETS|FREAD|FSCANF)_|\\bVL_FGETC|\\bfgetc\\("), "reads files");
    CALLS.put(Pattern.compile("\\bVlClassRef<"), "has classes, whose methods may call each other");
    CALLS.put(
        Pattern.compile("\\bVl(Queue|AssocArray|WildcardArray)<"),
        "has queues or dynamic arrays, which may grow without end");
    // Variables of the design; not constants, nor what Verilator keeps between two calls.
    CALLS.put(
        Pattern.compile(
            "(?m)^ *+(static )?(std::string|VlUnpacked<.*\\bstd::string\\b.*>)"
                + " (?!__Vtemp|__Venumtab)\\w+;"),
        "has strings, which may grow without end");
  }

  private Hazards() {}

  /** What it may do, in words that follow "it"; empty for nothing. */
  static String of(Path described, Generated cpp) throws IOException {
    if (cpp.importsC()) {
      return "imports C functions";
    }
    try (Stream<Path> files = Files.list(described)) {
      for (Path file : files.filter(f -> f.toString().matches(".*\\.(xml|json)")).toList()) {
        if (OWN_C.matcher(Files.readString(file, StandardCharsets.ISO_8859_1)).find()) {
          return "has C code of its own ($c)";
        }
      }
    }
    for (String name : Stream.of(cpp.sources(), cpp.headers()).flatMap(List::stream).toList()) {
      String code = Files.readString(cpp.folder().resolve(name), StandardCharsets.ISO_8859_1);
      for (Map.Entry<Pattern, String> call : CALLS.entrySet()) {
        if (call.getKey().matcher(code).find()) {
          return call.getValue();
        }
      }
    }
    return "";
  }
}
