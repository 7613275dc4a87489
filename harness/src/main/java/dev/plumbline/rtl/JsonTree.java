package dev.plumbline.rtl;

import com.google.gson.stream.JsonReader;
import com.google.gson.stream.JsonToken;
import java.io.IOException;
import java.io.Reader;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads the JSON that Verilator writes with {@code --json-only}, and puts it in the words of the
 * XML form.
 */
final class JsonTree {
  private static final Map<String, String> KINDS =
      Map.of(
          "cell", "instance",
          "pin", "port",
          "assignw", "contassign",
          "genblock", "begin",
          "initialstaticstmt", "initialstatic");

  /** Where each kind of node says what it points at. */
  private static final Map<String, String> TARGETS =
      Map.of(
          "varref", "varp",
          "instance", "modp",
          "port", "modVarp",
          "taskref", "taskp",
          "funcref", "taskp");

  private static final Pattern ITEM = Pattern.compile("\\[(\\d+)\\]=(\\(\\w+\\))");

  private final Map<String, String> files;
  private final Map<String, Node> byAddress = new HashMap<>();
  private final List<Node> nodes = new ArrayList<>();

  private JsonTree(Map<String, String> files) {
    this.files = files;
  }

  static Tree read(Path tree, Path meta, UnaryOperator<String> names) {
    try (Reader treeText = Files.newBufferedReader(tree)) {
      return read(tree, treeText, Files.readString(meta), names);
    } catch (IOException e) {
      throw Tree.unreadable("JSON", tree, e);
    }
  }

  /** Reads it from texts; the file is only named in messages. */
  static Tree read(Path tree, Reader treeText, String meta, UnaryOperator<String> names) {
    try {
      JsonTree reader = new JsonTree(files(meta, names));
      Node root = reader.parse(new JsonReader(treeText));
      if (root == null || !root.is("netlist")) {
        throw new RtlException(
            "\""
                + tree
                + "\" is not the JSON that verilator --json-only writes; have Verilator write it"
                + " anew",
            List.of());
      }
      reader.link();
      reader.requireSigns(tree);
      markTop(root);
      return new Tree(root, List.copyOf(reader.files.values()), true);
    } catch (RtlException e) {
      throw e;
    } catch (IOException | RuntimeException e) {
      throw Tree.unreadable("JSON", tree, e);
    }
  }

  private static Map<String, String> files(String meta, UnaryOperator<String> names)
      throws IOException {
    // Full paths may hold octal escapes, which are no JSON; they are not needed.
    String text = meta.replaceAll("\\\\[0-7]{3}", "?");
    JsonReader in = new JsonReader(new StringReader(text));
    Map<String, String> files = new LinkedHashMap<>();
    in.beginObject();
    while (in.hasNext()) {
      if (!in.nextName().equals("files")) {
        in.skipValue();
        continue;
      }
      in.beginObject();
      while (in.hasNext()) {
        String id = in.nextName();
        in.beginObject();
        while (in.hasNext()) {
          if (in.nextName().equals("filename")) {
            files.put(id, names.apply(in.nextString()));
          } else {
            in.skipValue();
          }
        }
        in.endObject();
      }
      in.endObject();
    }
    in.endObject();
    return files;
  }

  /** An object of which not all has been read. */
  private static final class Open {
    final Map<String, String> attributes = new HashMap<>();
    final List<Node> children = new ArrayList<>();
    String key = "";
    int arrayStart;

    /** Continuous assignments may come wrapped in a block of their own. */
    void add(Node child) {
      boolean wrapped = child.attribute("keyword").equals("cont_assign");
      children.addAll(wrapped ? child.children : List.of(child));
    }

    /** The branches of a choice are blocks, as in the XML. */
    void endArray() {
      if ("IF".equals(attributes.get("type")) && !key.equals("condp")) {
        List<Node> statements = children.subList(arrayStart, children.size());
        if (!statements.isEmpty()) {
          Node branch = new Node("begin", "", new SourceLocation("", 0), 0);
          statements.forEach(branch::add);
          statements.clear();
          children.add(branch);
        }
      }
    }
  }

  /** Reads without recursion, since expressions nest as deep as generated source likes. */
  private Node parse(JsonReader in) throws IOException {
    in.setNestingLimit(Integer.MAX_VALUE);
    Deque<Open> open = new ArrayDeque<>();
    Node last = null;
    while (in.peek() != JsonToken.END_DOCUMENT) {
      Open top = open.peek();
      switch (in.peek()) {
        case BEGIN_OBJECT -> {
          in.beginObject();
          open.push(new Open());
          open.peek().attributes.put("role", top == null ? "" : top.key);
        }
        case END_OBJECT -> {
          in.endObject();
          open.pop();
          last = node(top.attributes, top.children);
          if (!open.isEmpty()) {
            open.peek().add(last);
          }
        }
        case BEGIN_ARRAY -> {
          in.beginArray();
          top.arrayStart = top.children.size();
        }
        case END_ARRAY -> {
          in.endArray();
          top.endArray();
        }
        case NAME -> top.key = in.nextName();
        case BOOLEAN -> top.attributes.put(top.key, String.valueOf(in.nextBoolean()));
        case NULL -> in.nextNull();
        default -> top.attributes.put(top.key, in.nextString());
      }
    }
    return last;
  }

  private Node node(Map<String, String> attributes, List<Node> children) {
    String type = attributes.getOrDefault("type", "").toLowerCase(Locale.ROOT);
    String kind = KINDS.getOrDefault(type, type);
    String[] place = attributes.getOrDefault("loc", ",0:0").split("[,:]", -1);
    Node node =
        new Node(
            kind,
            name(kind, attributes),
            new SourceLocation(files.getOrDefault(place[0], ""), Integer.parseInt(place[1])),
            Integer.parseInt(place[2]));
    node.attributes.putAll(attributes);
    translate(node);
    boolean variable = kind.equals("var");
    children.stream()
        .filter(child -> !variable || child.attribute("role").equals("valuep"))
        .forEach(node::add);
    if (kind.equals("sel") && attributes.containsKey("widthConst")) {
      node.add(new Node("const", "32'h" + hex(attributes.get("widthConst")), node.location, 0));
    }
    byAddress.put(attributes.getOrDefault("addr", ""), node);
    nodes.add(node);
    return node;
  }

  private static String hex(String decimal) {
    return Integer.toHexString(Integer.parseInt(decimal));
  }

  /** Names come as they are, but those of string constants once more escaped. */
  private static String name(String kind, Map<String, String> attributes) {
    String name = attributes.getOrDefault("name", "");
    return kind.equals("const") && name.startsWith("\\\"")
        ? Literals.utf8(Literals.unescape(name))
        : name;
  }

  private static void translate(Node node) {
    Map<String, String> attributes = node.attributes;
    if (node.is("var")) {
      String direction = node.attribute("direction").toLowerCase(Locale.ROOT);
      attributes.put("dir", direction.equals("none") ? "" : direction);
      boolean overridable = node.flag("isGParam");
      attributes.put("param", String.valueOf(overridable));
      attributes.put("localparam", String.valueOf(node.flag("isParam") && !overridable));
      attributes.put("vartype", node.attribute("dtypeName"));
    } else if (node.is("basicdtype") && !node.attribute("range").isEmpty()) {
      String[] bounds = node.attribute("range").split(":", -1);
      attributes.put("left", bounds[0]);
      attributes.put("right", bounds[1]);
    }
  }

  private void link() {
    for (Node node : nodes) {
      Node made = byAddress.get(node.attribute("refDTypep"));
      Node type = byAddress.get(node.attribute("dtypep"));
      node.type = made != null ? made : type == node ? null : type;
      if (node.is("initarray")) {
        sortItems(node);
      }
      String target = TARGETS.get(node.kind);
      node.target = target == null ? null : byAddress.get(node.attribute(target));
    }
  }

  /** The order of array elements stands in a list of its own: {@code [0]=(QC) [1]=(RC)}. */
  private void sortItems(Node array) {
    Map<String, Integer> order = new HashMap<>();
    Matcher item = ITEM.matcher(array.attribute("initList"));
    while (item.find()) {
      order.put(item.group(2), Integer.parseInt(item.group(1)));
    }
    array.children.sort(
        Comparator.comparingInt(node -> order.getOrDefault(node.attribute("addr"), 0)));
  }

  /**
   * Older versions leave signs out of the JSON, silently. They also write every flag that is false,
   * by which they are known when no constant gives them away.
   */
  private void requireSigns(Path tree) {
    boolean signsGiven = nodes.stream().anyMatch(node -> node.attributes.containsKey("signed"));
    boolean older =
        nodes.stream()
            .anyMatch(
                node ->
                    node.attribute("isSc").equals("false")
                        || (node.is("const") && node.name.matches("\\d+'s.*")));
    if (!signsGiven && older) {
      throw new RtlException(
          "The JSON \""
              + tree
              + "\" does not say which numbers are signed; this Verilator still writes XML, so read"
              + " what --xml-only gives",
          List.of());
    }
  }

  /** The first module is the top. */
  private static void markTop(Node root) {
    root.children("module").findFirst().ifPresent(top -> top.attributes.put("topModule", "1"));
  }
}
