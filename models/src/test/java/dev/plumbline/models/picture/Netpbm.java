package dev.plumbline.models.picture;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Stream;

/** Programs of netpbm where they are installed, and the raw pixmaps that they speak. */
final class Netpbm {
  private Netpbm() {}

  static void assumeInstalled(String program) {
    boolean found =
        Stream.of(System.getenv("PATH").split(File.pathSeparator))
            .anyMatch(folder -> new File(folder, program).canExecute());
    assumeTrue(found, program + " of netpbm is not installed");
  }

  /** What a program makes of its input. */
  static byte[] run(byte[] input, String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(List.of(command)).redirectError(ProcessBuilder.Redirect.DISCARD).start();
    CompletableFuture<Void> feeding =
        CompletableFuture.runAsync(
            () -> {
              try (OutputStream to = process.getOutputStream()) {
                to.write(input);
              } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
              }
            });
    byte[] output = process.getInputStream().readAllBytes();
    feeding.join();
    assertEquals(0, process.waitFor(), String.join(" ", command));
    return output;
  }

  /** A picture as a raw pixmap, "P6". */
  static byte[] pixmap(Picture picture) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    byte[] head = ("P6 " + picture.width() + " " + picture.height() + " 255\n").getBytes(US_ASCII);
    out.write(head, 0, head.length);
    for (int colour : picture.colours()) {
      out.write(colour >> 16);
      out.write(colour >> 8);
      out.write(colour);
    }
    return out.toByteArray();
  }

  /** A picture from a raw pixmap without comments; fewer levels are spread over 0 to 255. */
  static Picture picture(byte[] pixmap) {
    int[] head = new int[3];
    int at = 2;
    for (int i = 0; i < head.length; i++) {
      while (Character.isWhitespace(pixmap[at])) {
        at++;
      }
      while (!Character.isWhitespace(pixmap[at])) {
        head[i] = 10 * head[i] + pixmap[at++] - '0';
      }
    }
    at++;
    Picture picture = Picture.of(head[0], head[1]);
    for (int pixel = 0; pixel < head[0] * head[1]; pixel++) {
      int colour = 0;
      for (int channel = 0; channel < 3; channel++) {
        colour = colour << 8 | (pixmap[at++] & 0xFF) * 255 / head[2];
      }
      picture.set(pixel % head[0], pixel / head[0], colour);
    }
    return picture;
  }
}
