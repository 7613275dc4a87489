package dev.plumbline.models.picture;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Bit planes, ILBM files and packed bytes against the standards and independent programs. */
class PlaneLayoutTest {
  private static CodePicture row(int... codes) {
    CodePicture picture = CodePicture.of(codes.length, 1);
    for (int x = 0; x < codes.length; x++) {
      picture.set(x, 0, codes[x]);
    }
    return picture;
  }

  private static long[] bytes(String hex) {
    return Arrays.stream(hex.split(" ")).mapToLong(digits -> Long.parseLong(digits, 16)).toArray();
  }

  @Test
  @DisplayName("G7: planes of 8 pixels, as a transpose of bits; packed twice it comes back turned")
  void planesAreATranspose() {
    // H. Warren, Hacker's Delight, 7-3.
    PlaneLayout layout = PlaneLayout.rows(8, 8);
    long[] counting = layout.pack(row(0, 1, 2, 3, 4, 5, 6, 7));
    assertArrayEquals(bytes("55 33 0F 00 00 00 00 00"), counting);
    assertArrayEquals(
        bytes("80 40 20 10 08 04 02 01"), layout.pack(row(1, 2, 4, 8, 16, 32, 64, 128)));
    int[] same = new int[8];
    Arrays.fill(same, 0xA5);
    assertArrayEquals(bytes("FF 00 FF 00 00 FF 00 FF"), layout.pack(row(same)));
    Random random = new Random(3);
    for (int round = 0; round < 100; round++) {
      int[] codes = random.ints(8, 0, 256).toArray();
      int[] once = Arrays.stream(layout.pack(row(codes))).mapToInt(word -> (int) word).toArray();
      long[] twice = layout.pack(row(once));
      for (int i = 0; i < 8; i++) {
        assertEquals(Integer.reverse(codes[7 - i]) >>> 24, twice[i]);
      }
    }
  }

  @Test
  @DisplayName("G9: 18 x 2 in 3 planes, words of rows as worked by hand")
  void rowsAreInterleaved() {
    assertArrayEquals(
        bytes("5555 4000 3333 0000 0F0F 0000 AAAA 8000 6666 4000 1E1E 0000"),
        PlaneLayout.rows(3, 16).pack(slanted()));
  }

  private static CodePicture slanted() {
    CodePicture picture = CodePicture.of(18, 2);
    for (int i = 0; i < 36; i++) {
      picture.set(i % 18, i / 18, (i % 18 + i / 18) % 8);
    }
    return picture;
  }

  @Test
  void tilesHaveTwoRowsAWord() {
    CodePicture picture = CodePicture.of(9, 2); // two tiles; the second has one column
    picture.set(0, 0, 1);
    picture.set(7, 1, 1);
    picture.set(8, 0, 0x80);
    long[] words = PlaneLayout.tiles(8, 8, 16).pack(picture);
    assertEquals(64, words.length);
    assertEquals(0x8001, words[0]);
    assertEquals(0x8000, words[32 + 7 * 4]);
    assertEquals(2, Arrays.stream(words).filter(word -> word != 0).count());
  }

  @Test
  void everyLayoutGivesThePictureBack() {
    Random random = new Random(20261129);
    for (int round = 0; round < 300; round++) {
      List<Integer> planes = new ArrayList<>(IntStream.range(0, 8).boxed().toList());
      Collections.shuffle(planes, random);
      planes = planes.subList(0, 1 + random.nextInt(8));
      PlaneLayout layout =
          new PlaneLayout(
              planes,
              random.nextInt(12),
              random.nextInt(12),
              1 + random.nextInt(64),
              random.nextBoolean());
      CodePicture picture = CodePicture.of(1 + random.nextInt(40), 1 + random.nextInt(20));
      int mask = planes.stream().mapToInt(plane -> 1 << plane).sum();
      for (int i = 0; i < picture.width() * picture.height(); i++) {
        int code = random.nextInt(256) & mask;
        picture.set(i % picture.width(), i / picture.width(), code);
      }
      long[] words = layout.pack(picture);
      assertEquals(picture, layout.unpack(words, picture.width(), picture.height()), "" + layout);
      long ones = Arrays.stream(words).map(Long::bitCount).sum();
      long codes = 0;
      for (int i = 0; i < picture.width() * picture.height(); i++) {
        codes += Integer.bitCount(picture.at(i % picture.width(), i / picture.width()));
      }
      assertEquals(codes, ones, "what belongs to no pixel is 0");
    }
  }

  @Test
  @DisplayName("G8: sizes of the standard's example: BMHD 20, CMAP 21 and a pad, BODY 24000")
  void chunksHaveThePublishedSizes() {
    // J. Morrison, "ILBM" Interleaved Bitmap, Electronic Arts, 1986, section 3 and appendix B.
    int[] seven = new int[7];
    byte[] file = Ilbm.write(CodePicture.of(320, 200), Palette.of(seven), 3, false);
    ByteBuffer form = ByteBuffer.wrap(file);
    assertEquals(24070, form.getInt(4));
    assertEquals(24078, file.length);
    assertEquals(20, form.getInt(16));
    assertEquals(21, form.getInt(44));
    assertEquals("BODY", new String(file, 48 + 22, 4, java.nio.charset.StandardCharsets.US_ASCII));
    assertEquals(24000, form.getInt(74));
  }

  @Test
  @DisplayName("G9: netpbm packs the same body, and reads files back, packed and plain")
  void netpbmPacksTheSame(@TempDir Path folder) throws IOException, InterruptedException {
    Netpbm.assumeInstalled("ppmtoilbm");
    Netpbm.assumeInstalled("ilbmtoppm");
    Palette palette = Palette.levels(2, 2, 2);
    Picture map = Picture.of(8, 1);
    for (int code = 0; code < 8; code++) {
      map.set(code, 0, palette.colour(code));
    }
    Path mapFile = Files.write(folder.resolve("map.ppm"), Netpbm.pixmap(map));
    Picture colours = slanted().colours(palette);
    byte[] theirs =
        Netpbm.run(
            Netpbm.pixmap(colours),
            "ppmtoilbm",
            "-nocompress",
            "-fixplanes",
            "3",
            "-map",
            mapFile.toString());
    byte[] ours = Ilbm.write(slanted(), palette, 3, false);
    assertArrayEquals(body(theirs), body(ours));
    Random random = new Random(5);
    for (int round = 0; round < 4; round++) {
      CodePicture picture = CodePicture.of(1 + random.nextInt(70), 1 + random.nextInt(9));
      for (int i = 0; i < picture.width() * picture.height(); i++) {
        int code = random.nextInt(4) == 0 ? random.nextInt(8) : i / 20 % 8;
        picture.set(i % picture.width(), i / picture.width(), code);
      }
      byte[] file = Ilbm.write(picture, palette, 3, round % 2 == 0);
      assertEquals(picture.colours(palette), Netpbm.picture(Netpbm.run(file, "ilbmtoppm")));
    }
  }

  private static byte[] body(byte[] file) {
    ByteBuffer form = ByteBuffer.wrap(file);
    int at = 12;
    while (form.getInt(at) != 0x424F4459) { // BODY
      at += 8 + (form.getInt(at + 4) + 1) / 2 * 2;
    }
    return Arrays.copyOfRange(file, at + 8, at + 8 + form.getInt(at + 4));
  }

  private static byte[] packed(String hex) {
    byte[] bytes = new byte[hex.split(" ").length];
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = (byte) Integer.parseInt(hex.split(" ")[i], 16);
    }
    return bytes;
  }

  @Test
  @DisplayName("G10: the published 15 bytes are 24; any row comes back; growth stays bounded")
  void bytesArePackedAsPublished() {
    // Apple Technote 1023, 1996; ILBM appendices C and D.
    byte[] published = packed("FE AA 02 80 00 2A FD AA 03 80 00 2A 22 F7 AA");
    byte[] plain =
        packed("AA AA AA 80 00 2A AA AA AA AA 80 00 2A 22 AA AA AA AA AA AA AA AA AA AA");
    assertArrayEquals(plain, ByteRun.unpack(published));
    assertArrayEquals(published, ByteRun.pack(plain));
    assertArrayEquals(packed("07"), ByteRun.unpack(packed("80 00 07")), "0x80 stands for nothing");
    Random random = new Random(11);
    for (int round = 0; round < 500; round++) {
      byte[] row = new byte[(int) Math.round(Math.pow(2000, random.nextDouble())) - 1];
      int likely = 1 + random.nextInt(4);
      for (int i = 0; i < row.length; i++) {
        row[i] = (byte) random.nextInt(likely * likely);
      }
      byte[] small = ByteRun.pack(row);
      assertArrayEquals(row, ByteRun.unpack(small));
      assertTrue(small.length <= row.length + (row.length + 126) / 127);
    }
    assertThrows(IllegalArgumentException.class, () -> ByteRun.unpack(packed("02 01")));
    assertThrows(IllegalArgumentException.class, () -> ByteRun.unpack(packed("FE")));
  }

  @Test
  void badLayoutsAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> PlaneLayout.rows(9, 16));
    assertThrows(IllegalArgumentException.class, () -> PlaneLayout.rows(0, 16));
    assertThrows(IllegalArgumentException.class, () -> PlaneLayout.tiles(8, 2000, 16));
    assertThrows(IllegalArgumentException.class, () -> PlaneLayout.rows(8, 65));
    Exception high =
        assertThrows(IllegalArgumentException.class, () -> PlaneLayout.rows(3, 16).pack(row(1, 8)));
    assertEquals(
        "Code \"8\" of pixel 1, 0: it has bits that no plane of [0, 1, 2] holds.",
        high.getMessage());
    assertThrows(
        IllegalArgumentException.class, () -> PlaneLayout.rows(3, 16).unpack(new long[3], 16, 2));
  }
}
