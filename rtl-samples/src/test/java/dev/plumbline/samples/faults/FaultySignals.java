package dev.plumbline.samples.faults;

import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.Signal;
import dev.plumbline.rtl.Signals;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The signals that the edited statements of a fault drive, from the text of the RTL alone: the left
 * sides of assignments; of an edited condition, what is assigned under it; of an instance whose
 * parameter or connection is edited, what is inside and what its outputs connect to; of a function,
 * what is assigned a call of it; of a parameter, whatever is declared or assigned with it.
 */
final class FaultySignals {
  private static final String NAME = "[A-Za-z_]\\w*";
  private static final Pattern ASSIGNMENT =
      Pattern.compile(
          "(?s)^(?:assign\\s+)?(\\{[^}]*\\}|" + NAME + "(?:\\s*\\[[^\\]]*\\])*)\\s*(?:<=|=)(?!=)");
  private static final Pattern PUT_IN = Pattern.compile("(?m)^\\s*(" + NAME + ")\\s*<=[^;]*;");
  private static final Pattern INSTANCE =
      Pattern.compile(
          "(?s)\\b"
              + NAME
              + "\\s*#\\s*\\((?:[^()]++|\\([^()]*\\)|\\((?:[^()]++|\\([^()]*\\))*\\))*\\)\\s*("
              + NAME
              + ")\\s*\\((?:[^()]++|\\([^()]*\\)|\\((?:[^()]++|\\([^()]*\\))*\\))*\\)\\s*;");
  private static final Pattern OUTPUT =
      Pattern.compile("(?s)\\.out_\\w+\\s*\\(\\s*(\\{[^}]*\\}|" + NAME + ")\\s*\\)");
  private static final Pattern PARAMETER =
      Pattern.compile("(?s)^(?:localparam|parameter)\\b[^=]*?(" + NAME + ")\\s*=");
  private static final Pattern FUNCTION =
      Pattern.compile("(?s)\\bfunction\\b[^;(]*?(" + NAME + ")\\s*[;(].*?\\bendfunction\\b");
  private static final Pattern DECLARATION =
      Pattern.compile(
          "(?s)^(?:input|output)?\\s*(?:logic|wire|reg|state_e)\\b\\s*(?:signed\\b)?\\s*(?:\\[[^\\]]*\\]\\s*)*([\\w\\s,]+)$");

  private final Map<String, String> texts = new HashMap<>(); // by file, without comments
  private final Set<String> found = new LinkedHashSet<>(); // module.name, or instance:module.name
  private final Set<String> seen = new LinkedHashSet<>();

  private FaultySignals(Map<String, String> files) {
    files.forEach((name, text) -> texts.put(name, bare(text)));
  }

  /**
   * Names of signals.
   *
   * @param files the right RTL, by file name
   * @param signals of the model
   * @return hierarchical names
   */
  static Set<String> of(Fault fault, Map<String, String> files, Signals signals) {
    FaultySignals one = new FaultySignals(files);
    String text = files.get(fault.file());
    for (Fault.Change change : fault.changes()) {
      int at = text.indexOf(change.original());
      if (at < 0) {
        continue; // it changes what a change before has put there
      }
      String was = change.original();
      String is = change.replacement();
      int from = 0;
      while (from < Math.min(was.length(), is.length()) && was.charAt(from) == is.charAt(from)) {
        from++;
      }
      int to = was.length();
      int other = is.length();
      while (to > from && other > from && was.charAt(to - 1) == is.charAt(other - 1)) {
        to--;
        other--;
      }
      one.edited(fault.file(), at + from, at + Math.max(to, from + 1));
      if (to == from) { // statements that are put in drive signals themselves
        Matcher put = PUT_IN.matcher(is.substring(from, other));
        while (put.find()) {
          one.add(module(one.texts.get(fault.file()), at), put.group(1));
        }
      }
    }
    Set<String> paths = one.paths(signals);
    if (paths.isEmpty()) { // the model is without it, since it never changes
      for (String target : List.copyOf(one.found)) {
        one.mentions("\\b" + target.substring(target.lastIndexOf('.') + 1) + "\\b");
      }
      paths = one.paths(signals);
    }
    return paths;
  }

  private Set<String> paths(Signals signals) {
    Set<String> paths = new LinkedHashSet<>();
    for (Signal signal : signals.all()) {
      String plain = signal.path().replaceAll("\\[\\d+\\]", "");
      for (String target : found) {
        boolean inside = target.startsWith("in ");
        String name = target.substring(target.indexOf(' ') + 1);
        if (inside
            ? plain.contains("." + name + ".")
            : name.equals(signal.module() + "." + signal.name())
                || name.equals("?." + signal.name())) {
          paths.add(signal.path());
        }
      }
    }
    return paths;
  }

  /** What is one register behind: through wires to the first, that included. */
  static Set<String> directlyBehind(Set<String> paths, Signals signals) {
    Map<String, Signal> byPath = new HashMap<>();
    signals.all().forEach(signal -> byPath.put(signal.path(), signal));
    Map<String, List<String>> readers = new HashMap<>();
    signals
        .sources()
        .forEach(
            (target, from) ->
                from.forEach(
                    source ->
                        readers.computeIfAbsent(source, key -> new ArrayList<>()).add(target)));
    Set<String> behind = new LinkedHashSet<>(paths);
    Deque<String> open = new ArrayDeque<>(paths);
    while (!open.isEmpty()) {
      for (String reader : readers.getOrDefault(open.poll(), List.of())) {
        boolean isRegister = byPath.containsKey(reader) && byPath.get(reader).register();
        if (behind.add(reader) && !isRegister) {
          open.add(reader);
        }
      }
    }
    return behind;
  }

  private static String bare(String text) {
    StringBuilder bare = new StringBuilder(text);
    Matcher comment = Pattern.compile("(?s)//[^\\n]*|/\\*.*?\\*/|\"[^\"\\n]*\"").matcher(text);
    while (comment.find()) {
      for (int i = comment.start(); i < comment.end(); i++) {
        if (bare.charAt(i) != '\n') {
          bare.setCharAt(i, ' ');
        }
      }
    }
    return bare.toString();
  }

  private void edited(String file, int from, int to) {
    String text = texts.get(file);
    Matcher function = FUNCTION.matcher(text);
    while (function.find()) {
      if (function.start() <= from && from < function.end()) {
        mentions(function.group(1) + "\\s*\\(");
        return;
      }
    }
    Matcher instance = INSTANCE.matcher(text);
    while (instance.find()) {
      if (instance.start() <= from && from < instance.end()) {
        instance(module(text, from), instance.group(1), instance.group());
        return;
      }
    }
    int start = from;
    while (start > 0 && !isEnd(text, start)) {
      start--;
    }
    while (start < to) {
      int end = start;
      while (end < text.length() && text.charAt(end) != ';' && !isBlock(text, end)) {
        end++;
      }
      if (end >= from) { // an edit may stand right at the end of its statement
        statement(text, start, end, from);
      }
      start = end + 1;
    }
  }

  /** Whether a statement ends right before a place. */
  private static boolean isEnd(String text, int at) {
    return text.charAt(at - 1) == ';'
        || text.substring(Math.max(0, at - 12), at)
            .matches("(?s).*\\b(begin|end|endcase|endmodule|endfunction|generate)\\s")
        || (text.charAt(at - 1) == '\n' && text.substring(0, at).matches("(?s).*\\n`[^\\n]*\\n"));
  }

  private static boolean isBlock(String text, int at) {
    return text.startsWith("begin", at)
        && !Character.isJavaIdentifierPart(text.charAt(at + 5))
        && !Character.isJavaIdentifierPart(text.charAt(Math.max(0, at - 1)));
  }

  private void statement(String text, int start, int end, int from) {
    String statement = text.substring(start, end);
    String module = module(text, start);
    String left = statement.strip();
    String before;
    do { // what leads up to an assignment
      before = left;
      left = left.replaceFirst("(?s)^:\\s*\\w+", "").strip(); // the label of a block
      left = left.replaceFirst("(?s)^(always_ff|always)\\s*@\\s*\\([^)]*\\)", "").strip();
      left = left.replaceFirst("^(always_comb|else|end|begin)\\b", "").strip();
      left = left.replaceFirst("^(default|[\\w']+)\\s*:(?!:)", "").strip();
      if (left.matches("(?s)^(if|for|case)\\s*\\(.*")) {
        int close = closing(left, left.indexOf('('));
        left = left.substring(close + 1).strip();
      }
    } while (!left.equals(before));
    Matcher parameter = PARAMETER.matcher(left);
    Matcher assignment = ASSIGNMENT.matcher(left);
    Matcher declaration = DECLARATION.matcher(left);
    if (parameter.find()) {
      mentions("\\b" + parameter.group(1) + "\\b");
    } else if (assignment.find()) {
      add(module, assignment.group(1));
    } else if (declaration.find()) {
      for (String name : declaration.group(1).split(",")) {
        add(module, name.strip());
      }
    } else if (isBlock(text, end)) {
      block(text, end);
    }
  }

  private static int closing(String text, int open) {
    int depth = 0;
    for (int i = open; i < text.length(); i++) {
      depth += text.charAt(i) == '(' ? 1 : text.charAt(i) == ')' ? -1 : 0;
      if (depth == 0) {
        return i;
      }
    }
    return text.length() - 1;
  }

  /** Everything that is assigned in a block, and in what else follows it. */
  private void block(String text, int begin) {
    int depth = 0;
    Matcher word = Pattern.compile("\\b(begin|end)\\b").matcher(text);
    int at = begin;
    while (word.find(at)) {
      depth += word.group().equals("begin") ? 1 : -1;
      at = word.end();
      if (depth == 0) {
        break;
      }
    }
    for (int start = begin + 5; start < at; ) {
      int end = start;
      while (end < at && text.charAt(end) != ';' && !isBlock(text, end)) {
        end++;
      }
      if (!isBlock(text, Math.min(end, text.length() - 6))) {
        statement(text, start, end, start);
      }
      start = end + (isBlock(text, Math.min(end, text.length() - 6)) ? 5 : 1);
    }
  }

  private void instance(String module, String name, String text) {
    found.add("in " + name);
    Matcher output = OUTPUT.matcher(text);
    while (output.find()) {
      add(module, output.group(1));
    }
  }

  private void add(String module, String left) {
    Matcher name = Pattern.compile(NAME).matcher(left.replaceAll("\\[[^\\]]*\\]", ""));
    while (name.find()) {
      found.add("of " + module + "." + name.group());
    }
  }

  /** Every statement, declaration, instance and parameter that has a text in it. */
  private void mentions(String pattern) {
    if (!seen.add(pattern)) {
      return;
    }
    texts.forEach(
        (file, text) -> {
          Matcher instance = INSTANCE.matcher(text);
          List<int[]> taken = new ArrayList<>();
          while (instance.find()) {
            taken.add(new int[] {instance.start(), instance.end()});
            if (Pattern.compile(pattern).matcher(instance.group()).find()) {
              instance(module(text, instance.start()), instance.group(1), instance.group());
            }
          }
          Matcher mention = Pattern.compile(pattern).matcher(text);
          while (mention.find()) {
            int at = mention.start();
            boolean isTaken = taken.stream().anyMatch(span -> span[0] <= at && at < span[1]);
            if (!isTaken && !isInFunction(text, at, pattern)) {
              int start = at;
              while (start > 0 && !isEnd(text, start)) {
                start--;
              }
              int end = at;
              while (end < text.length() && text.charAt(end) != ';' && !isBlock(text, end)) {
                end++;
              }
              statement(text, start, end, at);
            }
          }
        });
  }

  private boolean isInFunction(String text, int at, String pattern) {
    Matcher function = FUNCTION.matcher(text);
    while (function.find()) {
      if (function.start() <= at && at < function.end()) {
        mentions(function.group(1) + "\\s*\\(");
        return true;
      }
    }
    return false;
  }

  private static String module(String text, int at) {
    Matcher module = Pattern.compile("\\bmodule\\s+(\\w+)").matcher(text);
    String name = "?";
    while (module.find() && module.start() <= at) {
      name = module.group(1);
    }
    return name;
  }
}
