package dev.plumbline.rtl;

import dev.plumbline.rtl.Port.EnumItem;
import dev.plumbline.rtl.Port.Field;
import dev.plumbline.rtl.Port.Range;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;

/** Turns the type nodes of a tree into shapes: widths, signs, dimensions, fields. */
final class Types {
  private static final Pattern PACKED = Pattern.compile("(?s)(struct|union)\\s+packed\\b.*");
  private static final Pattern SIGNED =
      Pattern.compile("(?s)(struct|union)\\s+packed\\s+signed\\b.*");

  static final String INTERFACE_TROUBLE =
      "is an interface; wrap the module in one with plain ports and make that the top";

  private static final String REAL =
      "is a real number; use fixed point, or pass its 64 bits through a logic [63:0] port with"
          + " $realtobits and $bitstoreal";

  private static final Map<String, String> UNDRIVABLE =
      Map.of(
          "real",
          REAL,
          "shortreal",
          REAL,
          "realtime",
          REAL,
          "string",
          "is a string; use a packed vector of eight bits a character",
          "event",
          "is an event; use a one-bit signal that toggles",
          "chandle",
          "is a chandle, which has no meaning outside C; take it out of the port list");

  /** Positions of one range, at most: what a 32-bit count of elements and words leaves room for. */
  private static final int LARGEST = 1 << 28;

  private static final int MOST_FIELDS = 1 << 20;

  private final Tree tree;
  private final SourceText source;
  private final EnumNames enumNames;
  private final Map<Node, Shape> shapes = new HashMap<>();

  Types(Tree tree, SourceText source) {
    this.tree = tree;
    this.source = source;
    this.enumNames = new EnumNames(tree, source);
  }

  /** The shape of a variable's type, its enum names included where they can be determined. */
  Shape ofVariable(Node variable) {
    Shape shape = of(variable.type);
    return shape.enumeration().isEmpty() && shape.trouble().isEmpty()
        ? shape.withEnumeration(items(enumNames.find(variable), shape.signed()))
        : shape;
  }

  Shape of(Node type) {
    if (type == null) {
      return Shape.trouble("has a type that Verilator does not describe; use logic vectors");
    }
    Shape known = shapes.get(type);
    if (known == null) {
      known = make(type);
      shapes.put(type, known);
    }
    return known;
  }

  private Shape make(Node type) {
    return switch (type.kind) {
      case "basicdtype" -> basic(type);
      case "refdtype", "memberdtype", "constdtype", "paramtypedtype" -> of(type.type);
      case "enumdtype" -> {
        Shape base = of(type.type);
        yield base.withEnumeration(items(List.of(type), base.signed()));
      }
      case "packarraydtype" -> packedArray(type);
      case "unpackarraydtype" -> unpackedArray(type);
      case "structdtype", "uniondtype" -> members(type);
      case "ifacerefdtype" -> Shape.trouble(INTERFACE_TROUBLE);
      case "dynarraydtype",
          "queuedtype",
          "assocarraydtype",
          "wildcardarraydtype",
          "unsizedarraydtype" ->
          Shape.trouble("is a dynamic array; use an unpacked array of fixed size");
      case "classrefdtype" ->
          Shape.trouble("is a class handle; pass its values as plain or packed struct ports");
      default ->
          Shape.trouble(
              "has a type ("
                  + type.kind
                  + ") without fixed bits; use logic vectors or packed structs");
    };
  }

  private static Shape basic(Node type) {
    boolean signed = type.flag("signed");
    String trouble = UNDRIVABLE.get(type.name);
    if (trouble != null) {
      return Shape.trouble(trouble);
    }
    if (type.attribute("left").isEmpty()) {
      return Shape.bits(1, signed, List.of());
    }
    Range range =
        range(
            Integer.parseInt(type.attribute("left")),
            Integer.parseInt(type.attribute("right")),
            type);
    return Shape.bits(range.size(), signed, List.of(range));
  }

  private Shape packedArray(Node type) {
    Range range = rangeOf(type);
    Shape element = of(type.type);
    List<Field> fields = new ArrayList<>();
    if ((long) range.size() * element.fields().size() > MOST_FIELDS) {
      throw new RtlException(
          "An array of structs has more than " + MOST_FIELDS + " members in all; use plain vectors",
          List.of(new RtlException.Message(type.location, "packed array " + range)));
    }
    List<Integer> indices = element.fields().isEmpty() ? List.of() : range.indices();
    for (int i = 0; i < indices.size(); i++) {
      int base = (range.size() - 1 - i) * element.width();
      for (Field field : element.fields()) {
        String dot = field.name().startsWith("[") ? "" : ".";
        fields.add(move(field, "[" + indices.get(i) + "]" + dot + field.name(), base));
      }
    }
    List<Range> packed = new ArrayList<>(List.of(range));
    packed.addAll(element.packed());
    return new Shape(
        Math.multiplyExact(range.size(), element.width()),
        tree.typed() ? type.flag("signed") : element.signed() && arraySigned(type),
        packed,
        element.unpacked(),
        fields,
        List.of(),
        element.trouble());
  }

  /**
   * Whether a packed array with signed elements is itself a signed number: yes when {@code signed}
   * is written in its own declaration, no when only the named type of its elements is signed (IEEE
   * 1800-2017, 7.4.1).
   */
  private boolean arraySigned(Node array) {
    if (array.type.is("packarraydtype")) {
      return false;
    }
    String before = source.wordBefore(array);
    return before.isEmpty() ? array.type.is("basicdtype") : before.equals("signed");
  }

  private Shape unpackedArray(Node type) {
    Shape element = of(type.type);
    List<Range> unpacked = new ArrayList<>(List.of(rangeOf(type)));
    unpacked.addAll(element.unpacked());
    return new Shape(
        element.width(),
        element.signed(),
        element.packed(),
        unpacked,
        element.fields(),
        element.enumeration(),
        element.trouble());
  }

  private Shape members(Node type) {
    boolean union = type.is("uniondtype");
    String keyword = union ? "union" : "struct";
    if (!packed(type)) {
      return Shape.trouble("is an unpacked " + keyword + "; declare it \"" + keyword + " packed\"");
    }
    List<Field> fields = new ArrayList<>();
    String trouble = "";
    int width = 0;
    List<Node> members = type.children("memberdtype").toList();
    for (int i = members.size() - 1; i >= 0; i--) {
      Node member = members.get(i);
      Shape shape = of(member.type);
      int low = union ? 0 : width;
      width = union ? Math.max(width, shape.width()) : width + shape.width();
      List<Field> own = new ArrayList<>();
      for (Field field : shape.fields()) {
        String dot = field.name().startsWith("[") ? "" : ".";
        own.add(move(field, member.name + dot + field.name(), low));
      }
      if (own.isEmpty()) {
        own.add(new Field(member.name, low + shape.width() - 1, low, shape.signed()));
      }
      fields.addAll(0, own);
      trouble = shape.trouble().isEmpty() ? trouble : shape.trouble();
    }
    boolean signed =
        tree.typed() ? type.flag("signed") : SIGNED.matcher(source.from(type)).matches();
    Range range = new Range(width - 1, 0);
    return new Shape(width, signed, List.of(range), List.of(), fields, List.of(), trouble);
  }

  private boolean packed(Node type) {
    if (tree.typed()) {
      return type.flag("packed");
    }
    String text = source.from(type);
    return !text.startsWith(type.is("uniondtype") ? "union" : "struct")
        || PACKED.matcher(text).matches();
  }

  private static Field move(Field field, String name, int by) {
    return new Field(name, field.high() + by, field.low() + by, field.signed());
  }

  private static List<EnumItem> items(List<Node> enums, boolean signed) {
    return enums.stream()
        .flatMap(type -> type.children("enumitem"))
        .map(item -> new EnumItem(item.name, code(item, signed)))
        .toList();
  }

  private static String code(Node item, boolean signed) {
    Node value = item.child(item.children.size() - 1);
    return Constants.number(value.name, signed).map(BigInteger::toString).orElse(value.name);
  }

  /** The declared range of an array type. */
  static Range rangeOf(Node array) {
    return range(array.children("range").findFirst().orElseThrow());
  }

  /** The bounds of a {@code range} node. */
  static Range range(Node range) {
    return range(bound(range.child(0)), bound(range.child(1)), range);
  }

  private static Range range(int left, int right, Node where) {
    if (Math.abs((long) left - right) >= LARGEST) {
      throw new RtlException(
          "A range of ["
              + left
              + ":"
              + right
              + "] has more than the "
              + LARGEST
              + " positions that can be driven; make it smaller",
          List.of(new RtlException.Message(where.location, "[" + left + ":" + right + "]")));
    }
    return new Range(left, right);
  }

  /** Verilator takes the lower 32 bits: {@code N-1} of an unsigned {@code N} of 0 is -1 to it. */
  private static int bound(Node constant) {
    return Constants.number(constant)
        .orElseThrow(
            () ->
                new RtlException(
                    "An array bound is not a number; write it as one",
                    List.of(new RtlException.Message(constant.location, constant.name))))
        .intValue();
  }
}
