package dev.plumbline.models.picture;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/**
 * How a picture of codes lies in words of bit planes.
 *
 * <pre>{@code
 * PlaneLayout rows = PlaneLayout.rows(8, 16);       // as the BODY of an ILBM file has it
 * PlaneLayout tiles = PlaneLayout.tiles(8, 8, 16);  // 8 x 8 pixels at a time
 * long[] words = rows.pack(codes);
 * }</pre>
 *
 * <p>The picture is cut into blocks, in rows from the top left. Of each block the planes come in
 * the declared order; of each plane the block's rows from the top; of each row the bits from the
 * left. These bits fill words from the highest bit down, or from the lowest up. A row of a block as
 * wide as the picture is filled up to whole words; so is the end of each plane of a block. Bits
 * that belong to no pixel are 0.
 *
 * @param order of the planes in each block: numbers of bits of a code, each at most once
 * @param blockWidth pixels in a row of a block; 0 for the picture's
 * @param blockHeight rows of a block; 0 for the picture's
 * @param wordBits 1 to 64
 * @param leftmostHighest whether words are filled from the highest bit down
 */
public record PlaneLayout(
    List<Integer> order, int blockWidth, int blockHeight, int wordBits, boolean leftmostHighest) {

  private static final int MAX_PLANES = 8;
  private static final int MAX_BLOCK = 1 << 10;

  /** Checks everything. */
  public PlaneLayout {
    order = List.copyOf(order);
    if (order.isEmpty()
        || order.stream().distinct().count() != order.size()
        || order.stream().anyMatch(plane -> plane < 0 || plane >= MAX_PLANES)) {
      throw new IllegalArgumentException(
          "Planes \"" + order + "\" of a layout: they are bits 0 to 7, each at most once.");
    }
    if (Math.min(blockWidth, blockHeight) < 0 || Math.max(blockWidth, blockHeight) > MAX_BLOCK) {
      throw new IllegalArgumentException(
          "Blocks of \""
              + blockWidth
              + " x "
              + blockHeight
              + "\" pixels in a layout: each side is 1 to 1024, or 0 for the picture's.");
    }
    if (wordBits < 1 || wordBits > Long.SIZE) {
      throw new IllegalArgumentException(
          "Words of \"" + wordBits + "\" bits in a layout: they have 1 to 64.");
    }
  }

  private static List<Integer> upwards(int planes) {
    return IntStream.range(0, planes).boxed().toList();
  }

  /**
   * Rows from the top, of each all planes in turn from plane 0, each filled up to whole words, the
   * leftmost pixel in the highest bit.
   *
   * @param planes 1 to 8
   * @param wordBits 1 to 64
   * @return a layout
   */
  public static PlaneLayout rows(int planes, int wordBits) {
    return new PlaneLayout(upwards(planes), 0, 1, wordBits, true);
  }

  /**
   * Whole planes one after the other from plane 0, the leftmost pixel in the highest bit.
   *
   * @param planes 1 to 8
   * @param wordBits 1 to 64
   * @return a layout
   */
  public static PlaneLayout planes(int planes, int wordBits) {
    return new PlaneLayout(upwards(planes), 0, 0, wordBits, true);
  }

  /**
   * Square tiles in rows from the top left, of each all planes in turn from plane 0, the leftmost
   * pixel of the upper row in the highest bit.
   *
   * @param planes 1 to 8
   * @param side of a tile in pixels, 1 to 1024
   * @param wordBits 1 to 64
   * @return a layout
   */
  public static PlaneLayout tiles(int planes, int side, int wordBits) {
    return new PlaneLayout(upwards(planes), side, side, wordBits, true);
  }

  /**
   * How many words a picture takes.
   *
   * @param width pixels in a row
   * @param height rows
   * @return 1 or more
   */
  public int words(int width, int height) {
    Cut cut = new Cut(width, height);
    return Math.multiplyExact(cut.across * cut.down * order.size(), cut.planeWords);
  }

  /**
   * A picture in words.
   *
   * @param picture whose codes have no bits but those of the planes
   * @return {@link #words} of them, each unsigned in the low bits
   * @throws IllegalArgumentException when a code has a bit that no plane holds
   */
  public long[] pack(CodePicture picture) {
    int mask = order.stream().mapToInt(plane -> 1 << plane).sum();
    long[] words = new long[words(picture.width(), picture.height())];
    walk(
        picture.width(),
        picture.height(),
        (x, y, plane, word, bit) -> {
          int code = picture.at(x, y);
          if ((code & ~mask) != 0) {
            throw new IllegalArgumentException(
                "Code \""
                    + code
                    + "\" of pixel "
                    + x
                    + ", "
                    + y
                    + ": it has bits that no plane of "
                    + order
                    + " holds.");
          }
          words[word] |= (long) (code >> plane & 1) << bit;
        });
    return words;
  }

  /**
   * The picture that words hold.
   *
   * @param words as {@link #pack} gives them
   * @param width pixels in a row
   * @param height rows
   * @return a picture; bits of codes without a plane are 0
   * @throws IllegalArgumentException when their number is another
   */
  public CodePicture unpack(long[] words, int width, int height) {
    CodePicture picture = CodePicture.of(width, height);
    if (words.length != words(width, height)) {
      throw new IllegalArgumentException(
          "Picture of "
              + picture
              + " from \""
              + words.length
              + "\" words: this layout takes "
              + words(width, height)
              + ".");
    }
    walk(
        width,
        height,
        (x, y, plane, word, bit) ->
            picture.set(x, y, picture.at(x, y) | (int) (words[word] >>> bit & 1) << plane));
    return picture;
  }

  /** Where one bit of a pixel lies. */
  private interface Place {
    void bit(int x, int y, int plane, int word, int bit);
  }

  private void walk(int width, int height, Place place) {
    Cut cut = new Cut(width, height);
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        int block = y / cut.height * cut.across + x / cut.width;
        int within = y % cut.height * cut.rowBits + x % cut.width;
        for (int k = 0; k < order.size(); k++) {
          int word = (block * order.size() + k) * cut.planeWords + within / wordBits;
          int from = within % wordBits;
          place.bit(x, y, order.get(k), word, leftmostHighest ? wordBits - 1 - from : from);
        }
      }
    }
  }

  /** How a picture is cut. */
  private final class Cut {
    final int width;
    final int height;
    final int across;
    final int down;
    final int rowBits;
    final int planeWords; // of one plane of one block

    Cut(int pictureWidth, int pictureHeight) {
      Picture.requireSides("Planes of a picture", pictureWidth, pictureHeight);
      width = blockWidth == 0 ? pictureWidth : blockWidth;
      height = blockHeight == 0 ? pictureHeight : blockHeight;
      across = upTo(pictureWidth, width);
      down = upTo(pictureHeight, height);
      rowBits = blockWidth == 0 ? upTo(width, wordBits) * wordBits : width;
      planeWords = upTo(rowBits * height, wordBits);
    }

    private static int upTo(int count, int each) {
      return (count + each - 1) / each;
    }
  }

  /** Words with a byte for each eight bits, the highest first. */
  byte[] bytes(long... words) {
    int each = wordBits / Byte.SIZE;
    byte[] bytes = new byte[words.length * each];
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = (byte) (words[i / each] >>> (Byte.SIZE * (each - 1 - i % each)));
    }
    return bytes;
  }

  /** The planes' order, blocks and words. */
  @Override
  public String toString() {
    return "planes "
        + order
        + " of "
        + Arrays.asList(blockWidth, blockHeight)
        + " in words of "
        + wordBits
        + (leftmostHighest ? " from the top" : " from the bottom");
  }
}
