package dev.plumbline.blocks;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;

/**
 * Pixels of whole pictures, one picture after the other: in rows or in any order, some of them
 * twice, of which the later counts; the last pixel of each says so. Colours are by chance, flat, a
 * gradient, of few values near the ends of channels, or where a channel is about to take another
 * code.
 */
final class PictureCases implements Stimulus {
  private static final int FULL = 256;
  private static final int[] EDGES = {0, 1, 2, 127, 128, 254, 255, 36, 37, 51, 85, 170, 204};

  private final int width;
  private final int height;
  private final Quantiser quantiser;

  PictureCases(int width, int height, Quantiser quantiser) {
    this.width = width;
    this.height = height;
    this.quantiser = quantiser;
  }

  /** How colours of a picture are drawn. */
  private enum Look {
    CHANCE,
    FLAT,
    GRADIENT,
    EDGES,
    THRESHOLDS
  }

  private static final List<Look> LOOKS = List.of(Look.values());

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    return new PixelSource(RandomStream.of(seed));
  }

  /** One thread's pictures. */
  private final class PixelSource implements Source {
    private final RandomStream stream;
    private final int[] order = new int[width * height]; // of pixels
    private final long[] words = new long[PictureBench.INPUTS];
    private Look look = Look.CHANCE;
    private int flat;
    private int next = width * height;
    private boolean inRows;

    PixelSource(RandomStream stream) {
      this.stream = stream;
    }

    @Override
    public void fill(long[][][] columns, int from, int to) {
      for (int row = from; row < to; row++) {
        draw();
        for (int k = 0; k < words.length; k++) {
          columns[k][0][row] = words[k];
        }
      }
    }

    private void draw() {
      if (next == order.length) {
        begin();
      }
      boolean again = !inRows && next > 0 && stream.below(8) == 0;
      int pixel = order[again ? stream.below(next) : next];
      next += again ? 0 : 1;
      words[0] = pixel % width;
      words[1] = pixel / width;
      words[2] = colour(pixel);
      words[3] = next == order.length ? 1 : 0;
    }

    private void begin() {
      next = 0;
      look = LOOKS.get(stream.below(LOOKS.size()));
      flat = stream.below(1 << 24);
      inRows = stream.below(2) == 0;
      for (int i = 0; i < order.length; i++) {
        order[i] = i;
      }
      for (int i = order.length - 1; i > 0 && !inRows; i--) {
        int other = stream.below(i + 1);
        int kept = order[i];
        order[i] = order[other];
        order[other] = kept;
      }
    }

    private int colour(int pixel) {
      return switch (look) {
        case CHANCE -> stream.below(1 << 24);
        case FLAT -> flat;
        case GRADIENT -> gradient(pixel);
        case EDGES -> edge() << 16 | edge() << 8 | edge();
        case THRESHOLDS -> threshold(pixel);
      };
    }

    /** Each channel the last value of its code, or the first of the next. */
    private int threshold(int pixel) {
      int colour = stream.below(1 << 24);
      for (int shift = 16; shift >= 0; shift -= 8) {
        int one = 1 << shift;
        int code = quantiser.code(pixel % width, pixel / width, colour);
        while ((colour >> shift & FULL - 1) < FULL - 1
            && quantiser.code(pixel % width, pixel / width, colour + one) == code) {
          colour += one;
        }
        if (stream.below(2) == 0 && (colour >> shift & FULL - 1) < FULL - 1) {
          colour += one;
        }
      }
      return colour;
    }

    private int edge() {
      return EDGES[stream.below(EDGES.length)];
    }

    private int gradient(int pixel) {
      int across = pixel % width * FULL / width;
      int down = pixel / width * FULL / height;
      return (across << 16 | down << 8 | (FULL - 1 - across)) ^ flat;
    }
  }
}
