package dev.plumbline.blocks;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.CodePicture;
import dev.plumbline.models.picture.PlaneLayout;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.rtl.Design;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.wiring.PortGuess;
import dev.plumbline.wiring.Wiring;
import dev.plumbline.wiring.WiringTable;
import java.io.PrintStream;
import java.util.List;

/**
 * Holds any converter of pictures: pixels of 24 bits in any order come in, and once the last of a
 * picture is there, its words of bit planes go out.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/planes.v", top = "planes")
 * class PlanesTest {
 *   @Test
 *   void packsWholePictures(Bench.Builder bench) {
 *     PictureBench.of(bench)
 *         .size(40, 25)
 *         .quantiser(Quantiser.of(Palette.levels(8, 8, 4)).withDither(DitherMatrix.bayer(3)))
 *         .layout(PlaneLayout.rows(8, 16))
 *         .check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operands {@code x} and {@code y} (unsigned), {@code colour} (red in bits 23 to 16, green in 15
 * to 8, blue in 7 to 0) and {@code last} (a bit: the picture is complete with this pixel); results
 * {@code word} and {@code end} (a bit: the last word of a picture). Valid ports are needed. Of a
 * pixel that comes twice the later counts. Every picture is whole, so that what a memory had before
 * never shows; for that reason nothing is reset in mid-stream. A DUT whose signal for a whole
 * picture is no port beside the pixel, such as a register, needs a module around it that makes it
 * one. What the size, the palette and the like are set by is held with {@link #hold}.
 */
public final class PictureBench extends WiredBench<PictureBench> {
  static final int INPUTS = 4;
  private static final int COLOUR_BITS = 24;

  private final Bench.Builder bench;
  private int width;
  private int height;
  private Quantiser quantiser;
  private PlaneLayout layout;
  private int least;
  private int most = 64;
  private PrintStream out = System.out;

  private PictureBench(Bench.Builder bench) {
    this.bench = bench;
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs the size, the palette and the layout
   */
  public static PictureBench of(Bench.Builder bench) {
    return new PictureBench(bench);
  }

  /**
   * Sets the size of every picture.
   *
   * @param columns pixels in a row, 1 or more
   * @param rows 1 or more
   * @return this bench
   * @throws IllegalArgumentException when a picture cannot have that size
   */
  public PictureBench size(int columns, int rows) {
    CodePicture.of(columns, rows);
    width = columns;
    height = rows;
    return this;
  }

  /**
   * Sets how colours become codes.
   *
   * @param colours palette and dither
   * @return this bench
   */
  public PictureBench quantiser(Quantiser colours) {
    quantiser = colours;
    return this;
  }

  /**
   * Sets how codes lie in words.
   *
   * @param planes the layout; the DUT's words have as many bits as its
   * @return this bench
   */
  public PictureBench layout(PlaneLayout planes) {
    layout = planes;
    return this;
  }

  /**
   * Sets when words come, as {@link Contract.Builder#latencyBetween}: the first of a picture after
   * its last pixel, and each of the others after the word before.
   *
   * @param fewest cycles, 0 unless set
   * @param greatest cycles, 64 unless set
   * @return this bench
   */
  public PictureBench latencyBetween(int fewest, int greatest) {
    least = fewest;
    most = greatest;
    return this;
  }

  /**
   * Sets the number of pixels that are offered.
   *
   * @param count 0 or more
   * @return this bench
   */
  public PictureBench cases(long count) {
    bench.cases(count);
    return this;
  }

  /**
   * Sets the stream on which the wiring is printed.
   *
   * @param stream {@link System#out} unless set
   * @return this bench
   */
  public PictureBench printTo(PrintStream stream) {
    out = stream;
    return this;
  }

  /**
   * Guesses what was not set, prints it, and runs the bench.
   *
   * @return what was found
   * @throws ContractException when something is not set, or a port cannot be determined or does not
   *     fit
   */
  public Verdict run() {
    require(width > 0, "how large its pictures are", "size(COLUMNS, ROWS)");
    require(quantiser != null, "its palette", "quantiser(Quantiser.of(PALETTE))");
    require(layout != null, "its bit planes", "layout(PlaneLayout.rows(8, 16))");
    Reference reference = reference();
    Wiring wiring =
        PortGuess.complete(
            name(), design(), sorted(reference), reference.inputs(), reference.outputs());
    Contract.Builder contract = Contract.of(reference).signsFromFormats();
    wiring.connect(contract);
    contract.latencyBetween(least, most);
    out.print(
        WiringTable.of(
            name() + " on module " + design().top() + ":",
            design(),
            reference.inputs(),
            reference.outputs(),
            wiring,
            List.of("words within " + least + " to " + most + " cycles", reference.name())));
    return bench
        .contract(contract.build())
        .stimulus(new PictureCases(width, height, quantiser))
        .resets(0)
        .run();
  }

  /**
   * Runs the bench, and fails unless all is well.
   *
   * @return the verdict, a pass
   * @throws org.opentest4j.AssertionFailedError with the facts
   * @throws ContractException as {@link #run}
   */
  public Verdict check() {
    return run().orFail();
  }

  private void require(boolean set, String what, String how) {
    if (!set) {
      throw new ContractException(
          name()
              + " on module "
              + design().top()
              + " does not know "
              + what
              + "; set ."
              + how
              + ".");
    }
  }

  private Reference reference() {
    Format x = Format.unsigned(widthOf("x", bitsFor(width)), 0);
    Format y = Format.unsigned(widthOf("y", bitsFor(height)), 0);
    List<Operand> inputs =
        List.of(
            new Operand("x", x),
            new Operand("y", y),
            new Operand("colour", Format.unsigned(COLOUR_BITS, 0)),
            new Operand("last", Format.bit()));
    List<Operand> outputs =
        List.of(
            new Operand("word", Format.unsigned(layout.wordBits(), 0)),
            new Operand("end", Format.bit()));
    String name =
        "pictures of " + width + " x " + height + ", " + quantiser.palette() + ", " + layout;
    int columns = width;
    int rows = height;
    Quantiser colours = quantiser;
    PlaneLayout planes = layout;
    return Reference.statefulStream(
        name, inputs, outputs, () -> new Converter(columns, rows, colours, planes));
  }

  private static int bitsFor(int count) {
    return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(count - 1));
  }

  @Override
  PictureBench self() {
    return this;
  }

  @Override
  Design design() {
    return bench.design();
  }

  /** A memory of one picture, and what goes out of it. */
  private static final class Converter implements Reference.StreamFunction {
    private final CodePicture memory;
    private final Quantiser colours;
    private final PlaneLayout planes;
    private final long[] result = new long[2];

    Converter(int width, int height, Quantiser colours, PlaneLayout planes) {
      this.memory = CodePicture.of(width, height);
      this.colours = colours;
      this.planes = planes;
    }

    @Override
    public void compute(long[] pixel, Reference.Results results) {
      int x = (int) pixel[0];
      int y = (int) pixel[1];
      if (x < memory.width() && y < memory.height()) { // a bench gives no others
        memory.set(x, y, colours.code(x, y, (int) pixel[2]));
      }
      if (pixel[3] == 0) {
        return;
      }
      long[] words = planes.pack(memory);
      for (int i = 0; i < words.length; i++) {
        result[0] = words[i];
        result[1] = i == words.length - 1 ? 1 : 0;
        results.give(result);
      }
    }
  }
}
