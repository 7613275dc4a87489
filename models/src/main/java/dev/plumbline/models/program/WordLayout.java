package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.TextException;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Where the bits of an operation lie in one word of a program memory: from this, encoder and
 * disassembler both come.
 *
 * <pre>{@code
 * WordLayout ours = WordLayout.standard(formats);
 * BigInteger[] words = ours.encode(program);
 * Program again = ours.decode(List.of(words), formats, limits);
 *
 * WordLayout theirs = WordLayout.parse(Files.readString(Path.of("chip.layout")));
 *
 * WordLayout yours =
 *     WordLayout.builder(128)
 *         .opcode(124, 4)
 *         .code(OperationKind.END, 15)
 *         .code(OperationKind.SPHERE, 1)
 *         .material(116, 8)
 *         .field(OperationKind.SPHERE, "radius", 0, Format.signed(8, 12))
 *         ...
 *         .build();
 * }</pre>
 *
 * <p>Bit 0 is the least significant. A field holds an operand in a format of its own, which need
 * not be the program's: a value that the field cannot hold exactly is refused, never rounded. Bits
 * without a field are written 0 and not looked at. Fields of {@link OperationKind#derived} need not
 * be there; they are written by their own rule, and not looked at either.
 *
 * <p>{@link #standard} with words of W bits and directions of DW, {@code 24 + 6 W} bits:
 *
 * <table>
 * <caption>fields</caption>
 * <tr><th>field</th><th>lowest bit</th><th>bits</th><th>used by</th></tr>
 * <tr><td>opcode</td><td>0</td><td>4</td><td>all</td></tr>
 * <tr><td>material</td><td>4</td><td>8</td><td>sphere, half_space, box</td></tr>
 * <tr><td>target</td><td>12</td><td>12</td><td>skip</td></tr>
 * <tr><td>centre_x, centre_y, centre_z, radius</td><td>24 + W k</td><td>W</td><td>sphere</td></tr>
 * <tr><td>inverse_radius</td><td>24 + 4 W</td><td>W</td><td>sphere</td></tr>
 * <tr><td>normal_x, normal_y, normal_z</td><td>24 + W k</td><td>DW</td><td>half_space</td></tr>
 * <tr><td>level</td><td>24 + 3 W</td><td>W</td><td>half_space</td></tr>
 * <tr><td>min_x, min_y, min_z, max_x, max_y, max_z</td><td>24 + W k</td><td>W</td>
 * <td>box, skip</td></tr>
 * </table>
 *
 * <p>Opcodes: end 0, begin 1, close 2, skip 3, sphere 4, half_space 5, box 6, union 8, intersection
 * 9, difference 10. A memory of zeros ends at once.
 */
public final class WordLayout {
  private final int width;
  private final Map<OperationKind, Integer> codes;
  private final Map<OperationKind, Map<String, LayoutField>> fields;
  private final LayoutField opcode;
  private final LayoutCodec codec;

  private WordLayout(Builder b) {
    this.width = b.width;
    this.opcode = b.opcode;
    this.codes = new EnumMap<>(b.codes);
    this.fields = new EnumMap<>(OperationKind.class);
    b.fields.forEach((kind, of) -> fields.put(kind, Collections.unmodifiableMap(of)));
    this.codec = new LayoutCodec(width, opcode, codes, fields);
  }

  /**
   * The layout of the sample chip.
   *
   * @param formats of the program; directions are no wider than words
   * @return the table above
   */
  public static WordLayout standard(SceneFormats formats) {
    int word = formats.word().width();
    Builder b = builder(24 + 6 * word).opcode(0, 4).material(4, 8).target(12, 12);
    Iterator<Integer> opcodes = List.of(0, 1, 2, 3, 4, 5, 6, 8, 9, 10).iterator();
    for (OperationKind kind : OperationKind.values()) {
      b.code(kind, opcodes.next());
      for (int i = 0; i < kind.operands().size(); i++) {
        String operand = kind.operands().get(i);
        b.field(kind, operand, 24 + word * i, formats.operand(operand));
      }
      int slot = kind.operands().size();
      for (String derived : kind.derived()) {
        b.field(kind, derived, 24 + word * slot++, formats.word());
      }
    }
    return b.build();
  }

  /**
   * Reads a layout.
   *
   * @param text as the page SCENES.md has it
   * @return the layout
   * @throws TextException when something may not stand where it does, or the layout cannot be
   */
  public static WordLayout parse(String text) {
    return LayoutText.parse(text);
  }

  /**
   * Begins a layout.
   *
   * @param width bits of a word, 1 or more
   * @return a builder
   */
  public static Builder builder(int width) {
    return new Builder(width);
  }

  /**
   * Bits of a word.
   *
   * @return as declared
   */
  public int width() {
    return width;
  }

  /**
   * The opcode of an operation.
   *
   * @param kind which
   * @return its value
   * @throws IllegalArgumentException when the layout has none for it
   */
  public int opcode(OperationKind kind) {
    Integer code = codes.get(kind);
    if (code == null) {
      throw new IllegalArgumentException(
          "Opcode of " + kind + ": the layout has none for it: " + codes + "; declare one.");
    }
    return code;
  }

  /**
   * A program's words.
   *
   * @param program any
   * @return one an operation
   * @throws ProgramException when an operation does not fit; the message names operation and field
   */
  public BigInteger[] encode(Program program) {
    BigInteger[] words = new BigInteger[program.length()];
    for (int i = 0; i < words.length; i++) {
      words[i] = codec.encode(program, i);
    }
    return words;
  }

  /**
   * The program that words hold, up to the {@code end} that nothing goes beyond.
   *
   * @param words from address 0; what lies behind the last one is not there
   * @param formats what the program's codes are to mean
   * @param limits what to check it against
   * @return a program
   * @throws ProgramException when a word is no operation, a value does not fit the formats, or the
   *     program cannot be; the message names the address
   */
  public Program decode(List<BigInteger> words, SceneFormats formats, ProgramLimits limits) {
    List<Operation> operations = new ArrayList<>();
    int furthest = 0;
    for (int address = 0; address < words.size(); address++) {
      Operation operation = codec.decode(words.get(address), address, formats);
      operations.add(operation);
      furthest = Math.max(furthest, operation.target());
      if (operation.kind() == OperationKind.END && furthest <= address) {
        break;
      }
    }
    return Program.of(formats, limits, operations);
  }

  /** The text form, which {@link #parse} reads as a layout that encodes the same. */
  @Override
  public String toString() {
    return LayoutText.print(width, opcode, codes, fields);
  }

  /** Declares a layout; every cross-check is made when it is built. */
  public static final class Builder {
    private final int width;
    private final Map<OperationKind, Integer> codes = new EnumMap<>(OperationKind.class);
    private final Map<OperationKind, Map<String, LayoutField>> fields =
        new EnumMap<>(OperationKind.class);
    private LayoutField opcode;

    private Builder(int width) {
      this.width = width;
      for (OperationKind kind : OperationKind.values()) {
        fields.put(kind, new LinkedHashMap<>());
      }
    }

    /**
     * Where the opcode lies.
     *
     * @param lowest its least significant bit
     * @param bits 1 to 16
     * @return this builder
     */
    public Builder opcode(int lowest, int bits) {
      opcode = new LayoutField(lowest, Format.unsigned(Math.min(bits, 16), 0));
      return this;
    }

    /**
     * The opcode of an operation.
     *
     * @param kind which
     * @param code its value, that of no other kind
     * @return this builder
     */
    public Builder code(OperationKind kind, int code) {
      codes.put(kind, code);
      return this;
    }

    /**
     * Where every solid has its material.
     *
     * @param lowest the least significant bit
     * @param bits 1 to 31
     * @return this builder
     */
    public Builder material(int lowest, int bits) {
      for (OperationKind kind : OperationKind.values()) {
        if (kind.isSolid()) {
          put(kind, LayoutField.MATERIAL, new LayoutField(lowest, Format.unsigned(bits, 0)));
        }
      }
      return this;
    }

    /**
     * Where a skip has its target.
     *
     * @param lowest the least significant bit
     * @param bits 1 to 31
     * @return this builder
     */
    public Builder target(int lowest, int bits) {
      LayoutField field = new LayoutField(lowest, Format.unsigned(bits, 0));
      put(OperationKind.SKIP, LayoutField.TARGET, field);
      return this;
    }

    /**
     * Where an operation has an operand, and how it is scaled.
     *
     * @param kind which operation
     * @param operand one of {@link OperationKind#operands} or {@link OperationKind#derived}
     * @param lowest the least significant bit
     * @param format width, sign and fraction bits of the field
     * @return this builder
     * @throws IllegalArgumentException when the operation has no such operand
     */
    public Builder field(OperationKind kind, String operand, int lowest, Format format) {
      if (!kind.operands().contains(operand) && !kind.derived().contains(operand)) {
        throw new IllegalArgumentException(
            "Field \"" + operand + "\" of " + kind + ": its operands are " + kind.operands() + ".");
      }
      put(kind, operand, new LayoutField(lowest, format));
      return this;
    }

    void put(OperationKind kind, String name, LayoutField field) {
      fields.get(kind).put(name, field);
    }

    /**
     * Ends the declaration.
     *
     * @return the layout
     * @throws IllegalArgumentException when opcodes clash, a field is missing, lies beyond the word
     *     or over another of the same operation
     */
    public WordLayout build() {
      if (opcode == null || !codes.containsKey(OperationKind.END)) {
        throw new IllegalArgumentException(
            "Layout without "
                + (opcode == null ? "a place for the opcode" : "an end")
                + ": declare it.");
      }
      codes.keySet().forEach(this::check);
      return new WordLayout(this);
    }

    /** One operation against all that is declared so far. */
    void check(OperationKind kind) {
      new LayoutCheck(width, opcode, codes).check(kind, fields.get(kind));
    }
  }
}
