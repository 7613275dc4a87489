package dev.plumbline.models.picture;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;

/**
 * Pictures of codes as ILBM files: J. Morrison, "ILBM" Interleaved Bitmap, Electronic Arts, 1986. A
 * FORM with the chunks BMHD, CMAP and BODY; numbers have their highest byte first, and a chunk of
 * odd length is followed by a byte of 0 that its length does not count.
 */
public final class Ilbm {
  private static final int WORD_BITS = 16;
  private static final int MAX_SIDE = 0x7FFF;

  private Ilbm() {}

  /**
   * A file.
   *
   * @param picture of codes
   * @param palette that they are of
   * @param planes 1 to 8
   * @param packed whether the rows of planes are packed as {@link ByteRun} has it
   * @return its bytes
   * @throws IllegalArgumentException when a code has more bits than there are planes
   */
  public static byte[] write(CodePicture picture, Palette palette, int planes, boolean packed) {
    ByteArrayOutputStream form = new ByteArrayOutputStream();
    text(form, "ILBM");
    chunk(form, "BMHD", header(picture, planes, packed));
    chunk(form, "CMAP", colours(palette));
    chunk(form, "BODY", body(picture, planes, packed));
    ByteArrayOutputStream file = new ByteArrayOutputStream();
    chunk(file, "FORM", form.toByteArray());
    return file.toByteArray();
  }

  private static byte[] header(CodePicture picture, int planes, boolean packed) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    word(out, Math.min(picture.width(), MAX_SIDE));
    word(out, Math.min(picture.height(), MAX_SIDE));
    word(out, 0); // x of its place
    word(out, 0); // y of its place
    out.write(planes);
    out.write(0); // no mask
    out.write(packed ? 1 : 0);
    out.write(0);
    word(out, 0); // no transparent colour
    out.write(1); // pixels are square
    out.write(1);
    word(out, picture.width()); // of the page
    word(out, picture.height());
    return out.toByteArray();
  }

  private static byte[] colours(Palette palette) {
    byte[] bytes = new byte[3 * palette.size()];
    for (int code = 0; code < palette.size(); code++) {
      for (int channel = 0; channel < 3; channel++) {
        bytes[3 * code + channel] = (byte) (palette.colour(code) >> (16 - 8 * channel));
      }
    }
    return bytes;
  }

  private static byte[] body(CodePicture picture, int planes, boolean packed) {
    PlaneLayout layout = PlaneLayout.rows(planes, WORD_BITS);
    byte[] plain = layout.bytes(layout.pack(picture));
    if (!packed) {
      return plain;
    }
    int row = plain.length / (picture.height() * planes);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    for (int at = 0; at < plain.length; at += row) {
      byte[] one = ByteRun.pack(java.util.Arrays.copyOfRange(plain, at, at + row));
      out.write(one, 0, one.length);
    }
    return out.toByteArray();
  }

  private static void chunk(ByteArrayOutputStream out, String name, byte[] content) {
    text(out, name);
    word(out, content.length >> 16);
    word(out, content.length);
    out.write(content, 0, content.length);
    if (content.length % 2 == 1) {
      out.write(0);
    }
  }

  private static void word(ByteArrayOutputStream out, int value) {
    out.write(value >> 8);
    out.write(value);
  }

  private static void text(ByteArrayOutputStream out, String text) {
    byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);
    out.write(bytes, 0, bytes.length);
  }
}
