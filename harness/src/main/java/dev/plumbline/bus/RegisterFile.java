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
 *
 * <p>Memories behind the bus are declared beside the registers, each word at an address of its own,
 * or all at one address while a register says which:
 *
 * <pre>{@code
 * memory gamma 0x100 0x1ff bits 8
 * memory palette by palette_number data 0x24 words 256 bits 24
 * }</pre>
 *
 * <p>{@code palette_number} is a register above whose lowest field takes the number of a word.
 * Words have up to 64 bits and keep what is written; accesses by chance leave them alone.
 *
 * <p>What a test by random accesses knows beyond that, which may all be left out:
 *
 * <pre>{@code
 *   field ready 0 read-only shows !busy      an input; also name[31:16]; still during a transfer
 *   field done 1 one-to-clear set-by ended   an input that sets the field, even as it is cleared
 *   field start 2 write-only pulses begin    an output, 1 for one cycle for each 1 that is written
 *   refused-while busy                       a write of this register: an error without effect
 * elsewhere 0x00 0xff refused                addresses without a register: an error; or ignored
 * leave 0x12                                 but for this one
 * writes of read-only refused                an error, where no bit can be written
 * reads of write-only refused                an error, where no bit can be read
 * }</pre>
 *
 * <p>Errors are looked at where the bus has a port for them ({@link Bus#withError}).
 */
public final class RegisterFile {
  private final List<Register> registers;
  private final Surroundings surroundings;

  private RegisterFile(List<Register> registers, Surroundings surroundings) {
    this.registers = List.copyOf(registers);
    this.surroundings = surroundings;
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
    RegisterText reader = new RegisterText(name);
    return new RegisterFile(reader.read(text), reader.surroundings());
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
   * register, and that read-only bits stay; then March C- over each memory, some ten accesses for
   * each word and for each power of two up to its bits.
   *
   * @param bus how the DUT is reached
   * @return what is wrong, in the order in which it was found; empty when all is well
   * @throws BusException when a transfer does not end
   */
  public List<String> run(Bus bus) {
    return find(bus).stream().map(Wrong::told).toList();
  }

  /**
   * As {@link #run}, and fails unless all is well.
   *
   * @param bus how the DUT is reached
   */
  public void check(Bus bus) {
    require(run(bus));
  }

  /**
   * Gives a DUT that was just reset accesses by chance: reads and writes of registers, aliases and
   * addresses that are none, back to back and with idle cycles between them, while inputs that the
   * text names change and events come in any cycle, also in the very one that clears their bit. All
   * that is read, refused and pulsed is held to what the text says.
   *
   * @param bus how the DUT is reached
   * @param accesses how many
   * @param seed what chance follows from
   * @return the first thing that is wrong, with the accesses before it; empty when all is well
   * @throws BusException when a transfer does not end
   */
  public List<String> run(Bus bus, long accesses, long seed) {
    return find(bus, accesses, seed).stream().map(Wrong::told).toList();
  }

  /**
   * As {@link #run(Bus, long, long)}, and fails unless all is well.
   *
   * @param bus how the DUT is reached
   * @param accesses how many
   * @param seed what chance follows from
   */
  public void check(Bus bus, long accesses, long seed) {
    require(run(bus, accesses, seed));
  }

  List<Wrong> find(Bus bus) {
    List<Wrong> found = new RegisterRun(bus, registers).run();
    if (found.isEmpty()) { // whether a word is reached may hang on a register
      surroundings
          .memories()
          .forEach(memory -> new MarchRun(bus, memory).run().ifPresent(found::add));
    }
    return found;
  }

  List<Wrong> find(Bus bus, long accesses, long seed) {
    return new RandomAccesses(bus, registers, surroundings, seed).run(accesses);
  }

  private static void require(List<String> found) {
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
