package dev.plumbline.bus;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.opentest4j.AssertionFailedError;

/**
 * The registers behind a bus, declared in text, and the test that follows from that.
 *
 * <pre>{@code
 * register mode 0x04
 *   field speed 2:0 read-write reset 5
 *   field lamp 8 read-only volatile
 *   alias 0x44
 * }</pre>
 *
 * <p>A line begins with {@code register}, then name and address; with {@code field}, then name,
 * bits as {@code high:low} or one bit, access, and maybe {@code reset} with a value and {@code
 * volatile}; or with {@code alias} and another address of the same register. What follows {@code #}
 * is a remark. Access is {@code read-write}, {@code read-only}, {@code write-only} or {@code
 * one-to-clear}, as in IEEE 1685. Bits of no field are not looked at, nor what is volatile: it may
 * change by itself. Numbers are decimal or hexadecimal, of up to 64 bits.
 */
public final class RegisterFile {
  private final List<Register> registers;

  private RegisterFile(List<Register> registers) {
    this.registers = List.copyOf(registers);
  }

  /**
   * Reads a file.
   *
   * @param file in UTF-8
   * @return the registers
   * @throws BusException with file and line, when something in it cannot be read
   */
  public static RegisterFile read(Path file) {
    try {
      return of(Files.readString(file), file.toString());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * Reads a text.
   *
   * @param text the declarations
   * @return the registers
   * @throws BusException with the line, when something in it cannot be read
   */
  public static RegisterFile of(String text) {
    return of(text, "registers");
  }

  private static RegisterFile of(String text, String name) {
    return new RegisterFile(new RegisterText(name).read(text));
  }

  /**
   * The registers.
   *
   * @return in the order of the text
   */
  public List<Register> registers() {
    return registers;
  }

  /**
   * Tests a DUT that was just reset: reset values first, then that each bit of each field takes and
   * keeps what its access says, that no write shows at another address, that aliases are the same
   * register, and that read-only bits stay.
   *
   * @param bus how the DUT is reached
   * @return what is wrong, in the order in which it was found; empty when all is well
   * @throws BusException when a transfer does not end
   */
  public List<String> run(Bus bus) {
    return new RegisterRun(bus, registers).run();
  }

  /**
   * As {@link #run}, and fails unless all is well.
   *
   * @param bus how the DUT is reached
   */
  public void check(Bus bus) {
    List<String> found = run(bus);
    if (!found.isEmpty()) {
      throw new AssertionFailedError(
          String.format(
              Locale.ROOT,
              "%d of the registers' promises do not hold:%n  %s",
              found.size(),
              String.join(System.lineSeparator() + "  ", new ArrayList<>(found))));
    }
  }
}
