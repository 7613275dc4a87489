import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;

/**
 * Writes the seed table of the reciprocal, or checks that the written one is current.
 *
 * <pre>
 * java rtl-samples/tools/ReciprocalSeedTable.java rtl-samples/rtl/reciprocal_seed_pkg.svh
 * java rtl-samples/tools/ReciprocalSeedTable.java --check rtl-samples/rtl/reciprocal_seed_pkg.svh
 * </pre>
 *
 * <p>The mantissa D lies in [1/2, 1). Entry i serves D in [(256+i)/512, (257+i)/512) and is the
 * reciprocal of the interval's midpoint, rounded to nearest at 10 fraction bits. Midpoint tables
 * have the smallest largest relative error of all tables of their size: D. Das Sarma, D. W. Matula,
 * Measuring the accuracy of ROM reciprocal tables, IEEE Transactions on Computers 43(8), 1994.
 */
final class ReciprocalSeedTable {
  private static final int ENTRIES = 256;

  private ReciprocalSeedTable() {}

  public static void main(String[] arguments) throws Exception {
    boolean check = arguments.length == 2 && arguments[0].equals("--check");
    if (!check && arguments.length != 1) {
      System.err.println("Usage: java ReciprocalSeedTable.java [--check] FILE");
      System.exit(2);
    }
    Path file = Path.of(arguments[arguments.length - 1]);
    if (!check) {
      Files.writeString(file, text());
    } else if (!Files.readString(file).equals(text())) {
      System.err.println(file + " is not what ReciprocalSeedTable.java writes; run it again.");
      System.exit(1);
    }
  }

  /** floor(2^20 / (2(256+i)+1) + 1/2), in integers: floor((2 * 2^20 + d) / 2d). */
  private static long entry(int i) {
    long d = 2L * (ENTRIES + i) + 1;
    return ((2L << 20) + d) / (2 * d);
  }

  /** The largest |1 - D r| over all D that entry i serves, as a count of 2^-19. */
  private static long error(int i) {
    long one = 1L << 19; // D has 9 fraction bits at an interval's end, r has 10
    long low = one - (ENTRIES + i) * entry(i);
    long high = one - (ENTRIES + i + 1) * entry(i);
    return Math.max(Math.abs(low), Math.abs(high));
  }

  private static String text() {
    int worst = 0;
    for (int i = 1; i < ENTRIES; i++) {
      worst = error(i) > error(worst) ? i : worst;
    }
    BigDecimal bound =
        new BigDecimal(error(worst))
            .divide(new BigDecimal(1 << 19), new MathContext(6, RoundingMode.CEILING));
    double bits = Math.floor(-Math.log(bound.doubleValue()) / Math.log(2) * 1000) / 1000;
    StringBuilder out = new StringBuilder();
    line(out, "// Written by tools/ReciprocalSeedTable.java: change that, not this.");
    line(out, "//");
    line(out, "// Purpose   seed of a reciprocal: 8 bits in, 11 bits out");
    line(out, "// Equation  entry(i) = floor(2^20 / (2(256+i)+1) + 1/2)");
    line(out, "// Formats   index i: the 8 bits after the leading one of D in [1/2, 1);");
    line(out, "//           entry: unsigned, 10 fraction bits, %d to %d", entry(255), entry(0));
    line(out, "// Error     |1 - D r| <= %d / 2^19 = %s, %.3f bits,", error(worst), bound, bits);
    line(out, "//           reached at entry %d; taken over both ends of every interval", worst);
    line(out, "// Source    D. Das Sarma, D. W. Matula, Measuring the accuracy of ROM reciprocal");
    line(out, "//           tables, IEEE Transactions on Computers 43(8), 1994 (midpoint tables)");
    line(out, "");
    line(out, "`ifndef RECIPROCAL_SEED_PKG_SVH");
    line(out, "`define RECIPROCAL_SEED_PKG_SVH");
    line(out, "");
    line(out, "package reciprocal_seed_pkg;");
    line(out, "");
    line(out, "  function automatic logic [10:0] seed(input logic [7:0] index);");
    line(out, "    case (index)");
    for (int i = 0; i < ENTRIES - 1; i++) {
      line(out, "      8'd%d: seed = 11'd%d;", i, entry(i));
    }
    line(out, "      default: seed = 11'd%d;  // 255", entry(ENTRIES - 1));
    line(out, "    endcase");
    line(out, "  endfunction");
    line(out, "");
    line(out, "endpackage");
    line(out, "");
    line(out, "`endif");
    return out.toString();
  }

  private static void line(StringBuilder out, String format, Object... values) {
    out.append(String.format(Locale.ROOT, format, values)).append('\n');
  }
}
