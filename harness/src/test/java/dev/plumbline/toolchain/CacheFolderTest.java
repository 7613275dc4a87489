package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A folder of code that will run: whose it is, how an entry appears, what a kill leaves. */
class CacheFolderTest {
  @TempDir private Path folder;

  private static void rights(Path file, String rights) throws IOException {
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString(rights));
  }

  private static String rights(Path file) throws IOException {
    return PosixFilePermissions.toString(Files.getPosixFilePermissions(file));
  }

  @Test
  void aNewFolderAndAllInItIsTheOwnersAlone() throws IOException {
    Path cache = folder.resolve("made/as/needed");
    CacheFolder.at(cache);
    try (Stream<Path> all = Files.walk(cache)) {
      for (Path made : all.toList()) {
        assertEquals("rwx------", rights(made), made.toString());
      }
    }
  }

  @ParameterizedTest
  @CsvSource({
    "'', rwxrwx---",
    "'', rwxr-xrwx",
    "libraries, rwxrwxr-x",
    "support, rwx----w-",
    "elaborated, rwxrwxrwx",
  })
  void aFolderThatOthersCanWriteIsRefused(String part, String rights) throws IOException {
    Path cache = folder.resolve("cache");
    CacheFolder.at(cache);
    Path open = cache.resolve(part);
    rights(open, rights);

    ToolchainException e = assertThrows(ToolchainException.class, () -> CacheFolder.at(cache));
    String user = Files.getOwner(cache).getName();
    assertEquals(
        "The cache folder "
            + (part.isEmpty() ? cache : open)
            + " cannot be used: others than its owner may write there ("
            + rights
            + "), and so run code as "
            + user
            + ". A folder that only its owner can write is needed; remove it, run chmod 700 on it,"
            + " or name another by -Dplumbline.cache=FOLDER.",
        e.getMessage());
  }

  @Test
  void aFolderThatOthersCanReadWillDo() throws IOException {
    Path cache = folder.resolve("cache");
    CacheFolder.at(cache);
    rights(cache, "rwxr-xr-x");
    CacheFolder.at(cache);
  }

  @Test
  void aFolderOfSomebodyElseIsRefused() throws IOException {
    Path cache = Files.createDirectory(folder.resolve("cache"));
    try {
      Files.setOwner(
          cache,
          cache.getFileSystem().getUserPrincipalLookupService().lookupPrincipalByName("nobody"));
    } catch (IOException e) {
      assumeTrue(false, "only root can give a folder away");
    }
    ToolchainException e = assertThrows(ToolchainException.class, () -> CacheFolder.at(cache));
    assertTrue(e.getMessage().contains("it belongs to nobody"), e.getMessage());
  }

  @Test
  void aFileInItsPlaceIsRefused() throws IOException {
    Path cache = Files.writeString(folder.resolve("cache"), "");
    ToolchainException e = assertThrows(ToolchainException.class, () -> CacheFolder.at(cache));
    assertEquals(
        "The cache folder "
            + cache
            + " cannot be used: Not a directory for "
            + cache.resolve("locks")
            + ". A folder with room and leave to write is needed; make room, or name another by"
            + " -Dplumbline.cache=FOLDER.",
        e.getMessage().replace("it is there already for " + cache, "Not a directory for " + cache));
  }

  @Test
  void anErrorInTheMidstOfABuildIsCalledWhatItWas() {
    CacheFolder cache = CacheFolder.at(folder.resolve("cache"));
    IOException full = new java.nio.file.FileSystemException("/cache/x", null, "No space left");

    ToolchainException e =
        assertThrows(
            ToolchainException.class,
            () ->
                cache.locked(
                    "model",
                    "a",
                    work -> {
                      throw full;
                    }));
    assertEquals(
        "The cache folder "
            + folder.resolve("cache")
            + " cannot be used: No space left for /cache/x. A folder with room and leave to write"
            + " is needed; make room, or name another by -Dplumbline.cache=FOLDER.",
        e.getMessage());
    assertEquals(full, e.getCause());
  }

  @ParameterizedTest
  @CsvSource({
    "/named, /xdg, /home/a, /home/b, /named",
    "'', /xdg, /home/a, /home/b, /xdg/plumbline",
    "'', '', /home/a, /home/b, /home/a/.cache/plumbline",
    "'', relative, /home/a, ?, /home/a/.cache/plumbline",
    "'', , , /home/b, /home/b/.cache/plumbline",
    "'', , relative, /home/b, /home/b/.cache/plumbline"
  })
  void theCacheIsWhereTheUserSays(
      String named, String xdg, String home, String userHome, Path place) {
    assertEquals(place, place(named, xdg, home, userHome));
  }

  @Test
  void aUserWithoutAHomeHasToNameAFolder() {
    ToolchainException e = assertThrows(ToolchainException.class, () -> place("", null, null, "?"));
    assertEquals(
        "There is no place for the cache of builds: neither XDG_CACHE_HOME nor HOME is an absolute"
            + " path, and the system knows no home of this user (user.home is \"?\"). Set HOME, or"
            + " name a folder by -Dplumbline.cache=FOLDER.",
        e.getMessage());
  }

  private static Path place(String named, String xdg, String home, String userHome) {
    return CacheFolder.place(
        name -> name.equals("plumbline.cache") ? named : userHome,
        name -> name.equals("HOME") ? home : xdg);
  }

  @Test
  void whoTakesALockRemovesWhatAKilledBuilderLeftUnderIt() throws IOException {
    CacheFolder cache = CacheFolder.at(folder.resolve("cache"));
    List<Path> work = new ArrayList<>();
    cache.locked("model", "a", work::add);
    Path left = work.get(0);
    assertFalse(Files.exists(left), "a work folder goes with the work");

    Files.createDirectories(left.resolve("cc"));
    Files.writeString(left.resolve("cc/unit.cpp"), "half a file");
    Path ofAnother = Files.createDirectory(left.resolveSibling("support-00-left"));
    cache.locked("model", "a", work::add);

    assertFalse(Files.exists(left));
    assertTrue(Files.exists(ofAnother), "who holds another lock may still be at work");
  }

  @Test
  void underALockThereIsOneAtATime() throws Exception {
    CacheFolder cache = CacheFolder.at(folder.resolve("cache"));
    List<String> steps = Collections.synchronizedList(new ArrayList<>());
    List<Thread> threads = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      Thread thread =
          new Thread(
              () -> {
                for (int n = 0; n < 25; n++) {
                  cache.locked(
                      "model",
                      "a",
                      work -> {
                        steps.add("in");
                        return steps.add("out");
                      });
                }
              });
      threads.add(thread);
      thread.start();
    }
    for (Thread thread : threads) {
      thread.join();
    }
    for (int i = 0; i < 200; i++) {
      assertEquals(i % 2 == 0 ? "in" : "out", steps.get(i), "step " + i);
    }
  }

  @Test
  void anEntryAppearsWholeAndTheFirstOneStays() throws IOException {
    CacheFolder cache = CacheFolder.at(folder.resolve("cache"));
    Path entry = cache.entry("elaborated", "description");
    for (String maker : List.of("first", "second")) {
      cache.locked(
          "model",
          maker,
          work -> {
            Path made = Files.createDirectory(work.resolve("made"));
            Files.writeString(made.resolve("by"), maker);
            cache.publish(made, entry);
            return null;
          });
    }
    assertEquals("first", Files.readString(entry.resolve("by")));
  }
}
