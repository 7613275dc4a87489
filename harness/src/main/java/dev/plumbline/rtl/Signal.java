package dev.plumbline.rtl;

import dev.plumbline.rtl.Port.Range;
import java.util.List;

/**
 * A variable or net anywhere in the hierarchy, ports of instances and of the top among them.
 *
 * @param path hierarchical name, the top module's own first, joined by dots; generate scopes and
 *     elements of arrays as Verilog names them: {@code planet.lane[0].angle_s4_q}
 * @param module the module it is declared in, as the source names it
 * @param width bits of one element, 1 or more
 * @param signed whether an element is a signed number
 * @param unpacked unpacked dimensions, outermost first; empty when it is one element
 * @param register whether it is assigned under a clock edge
 * @param location where it is declared
 */
public record Signal(
    String path,
    String module,
    int width,
    boolean signed,
    List<Range> unpacked,
    boolean register,
    SourceLocation location) {

  public Signal {
    unpacked = List.copyOf(unpacked);
  }

  /**
   * The name without the instances and generate scopes around it.
   *
   * @return what follows the last dot
   */
  public String name() {
    return path.substring(path.lastIndexOf('.') + 1);
  }

  /**
   * The instance or generate scope that it is declared in.
   *
   * @return what stands before the last dot
   */
  public String scope() {
    return path.substring(0, Math.max(0, path.lastIndexOf('.')));
  }

  /**
   * The number of 64-bit words that one element takes.
   *
   * @return at least 1
   */
  public int words() {
    return (width + 63) / 64;
  }

  /**
   * The number of elements over all unpacked dimensions.
   *
   * @return at least 1
   */
  public long elements() {
    return unpacked.stream().mapToLong(Range::size).reduce(1, Math::multiplyExact);
  }
}
