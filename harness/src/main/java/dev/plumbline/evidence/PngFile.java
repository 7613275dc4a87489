package dev.plumbline.evidence;

import dev.plumbline.models.picture.Picture;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.zip.Adler32;
import java.util.zip.CRC32;

/**
 * A picture as a PNG file (ISO/IEC 15948), true colour in 8 bits. Written by hand, since a
 * compressor of the platform gives other bytes on other platforms: each pixel less the one to its
 * left, runs of one byte made short, everything in the fixed code of RFC 1951.
 */
final class PngFile {
  private static final byte[] SIGNATURE = {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n'};
  private static final int BYTES = 3; // of a pixel
  private static final int LEAST_RUN = 3;
  private static final int MOST_RUN = 258;
  private static final int END = 256;
  private static final int FIRST_LENGTH = 257;

  /** From which length each code of a length stands; RFC 1951, 3.2.5. */
  private static final int[] LENGTHS = {
    3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131,
    163, 195, 227, 258
  };

  private final ByteArrayOutputStream out = new ByteArrayOutputStream();
  private int held; // bits that do not fill a byte yet, the first lowest
  private int heldBits;

  private PngFile() {}

  static byte[] of(Picture picture) {
    ByteArrayOutputStream file = new ByteArrayOutputStream();
    file.writeBytes(SIGNATURE);
    ByteArrayOutputStream header = new ByteArrayOutputStream();
    word(header, picture.width());
    word(header, picture.height());
    header.writeBytes(new byte[] {8, 2, 0, 0, 0}); // 8 bits, true colour
    chunk(file, "IHDR", header.toByteArray());
    chunk(file, "IDAT", new PngFile().packed(rows(picture)));
    chunk(file, "IEND", new byte[0]);
    return file.toByteArray();
  }

  /** Each row a filter's number, 1 for the left neighbour, and its bytes. */
  private static byte[] rows(Picture picture) {
    int[] colours = picture.colours();
    int width = picture.width();
    byte[] bytes = new byte[picture.height() * (1 + BYTES * width)];
    int at = 0;
    for (int pixel = 0; pixel < colours.length; pixel++) {
      boolean first = pixel % width == 0;
      if (first) {
        bytes[at++] = 1;
      }
      for (int shift = 16; shift >= 0; shift -= 8) {
        int left = first ? 0 : colours[pixel - 1] >> shift;
        bytes[at++] = (byte) ((colours[pixel] >> shift) - left);
      }
    }
    return bytes;
  }

  private byte[] packed(byte[] plain) {
    out.write(0x78); // RFC 1950: a window of 32 KiB
    out.write(0x01);
    bits(1, 1); // the last block
    bits(1, 2); // the fixed code
    int at = 0;
    while (at < plain.length) {
      int literal = plain[at] & 0xFF;
      symbol(literal);
      at++;
      int run = 0;
      while (run < MOST_RUN && at + run < plain.length && plain[at + run] == plain[at - 1]) {
        run++;
      }
      if (run >= LEAST_RUN) {
        length(run);
        at += run;
      }
    }
    symbol(END);
    bits(0, (Byte.SIZE - heldBits) % Byte.SIZE);
    Adler32 sum = new Adler32();
    sum.update(plain);
    word(out, (int) sum.getValue());
    return out.toByteArray();
  }

  /** So many bytes again as the last one. */
  private void length(int run) {
    int code = LENGTHS.length - 1;
    while (LENGTHS[code] > run) {
      code--;
    }
    symbol(FIRST_LENGTH + code);
    int extra = code < 8 || code == LENGTHS.length - 1 ? 0 : code / 4 - 1;
    bits(run - LENGTHS[code], extra);
    bits(0, 5); // distance 1
  }

  /** A symbol in the fixed code; RFC 1951, 3.2.6. */
  private void symbol(int symbol) {
    if (symbol < 144) {
      code(0x30 + symbol, 8);
    } else if (symbol < 256) {
      code(0x190 + symbol - 144, 9);
    } else if (symbol < 280) {
      code(symbol - 256, 7);
    } else {
      code(0xC0 + symbol - 280, 8);
    }
  }

  /** A code, its highest bit first. */
  private void code(int code, int count) {
    bits(Integer.reverse(code) >>> (Integer.SIZE - count), count);
  }

  private void bits(int value, int count) {
    held |= value << heldBits;
    heldBits += count;
    while (heldBits >= Byte.SIZE) {
      out.write(held);
      held >>>= Byte.SIZE;
      heldBits -= Byte.SIZE;
    }
  }

  private static void chunk(ByteArrayOutputStream file, String name, byte[] content) {
    byte[] type = name.getBytes(StandardCharsets.US_ASCII);
    CRC32 check = new CRC32();
    check.update(type);
    check.update(content);
    word(file, content.length);
    file.writeBytes(type);
    file.writeBytes(content);
    word(file, (int) check.getValue());
  }

  private static void word(ByteArrayOutputStream into, int value) {
    for (int shift = 24; shift >= 0; shift -= 8) {
      into.write(value >>> shift);
    }
  }
}
