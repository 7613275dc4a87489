package dev.plumbline.watch;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.file.FileSystems;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardWatchEventKinds;
import java.nio.file.WatchKey;
import java.nio.file.WatchService;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;

/**
 * Which files of some folders were saved, made, renamed or removed since it was last asked. The
 * system wakes it; what changed it sees by itself, so that a wake that is lost, as on a file system
 * of another machine, costs half a second and no more.
 */
final class SavedFiles implements AutoCloseable {
  private static final int ASLEEP_MS = 500;

  /** Editors save in steps, and a second file follows the first. */
  private static final int QUIET_MS = 15;

  /** A compiler writes its classes one after the other. */
  private static final int QUIET_AFTER_CLASSES_MS = 300;

  private final Set<Path> trees;
  private final WatchService service;
  private final Map<Path, WatchKey> registered = new HashMap<>();
  private Set<Path> folders = Set.of();
  private Map<Path, String> seen = new HashMap<>();

  /** Watches folders with all that is below them. */
  SavedFiles(Set<Path> trees) {
    this.trees = trees;
    try {
      service = FileSystems.getDefault().newWatchService();
    } catch (IOException e) {
      throw new WatchException(
          "Files cannot be watched: "
              + IoText.of(e)
              + "; the system has to have room for one more watch. Close programs that watch"
              + " files.",
          e);
    }
    seen = stamps();
  }

  /** Watches further folders, without what is below them; what is in them now counts as known. */
  void alsoIn(Set<Path> more) {
    Set<Path> all = new HashSet<>(folders);
    all.addAll(more);
    if (!all.equals(folders)) {
      Set<Path> before = folders;
      folders = all;
      stamps()
          .forEach(
              (file, stamp) -> {
                if (!before.contains(file.getParent())) {
                  seen.putIfAbsent(file, stamp);
                }
              });
    }
  }

  /** Waits until something was saved and then all is quiet; gives the files, sorted. */
  Set<Path> await() throws InterruptedException {
    Set<Path> changed = new TreeSet<>();
    while (true) {
      Set<Path> now = changes();
      changed.addAll(now);
      if (!changed.isEmpty() && now.isEmpty()) {
        return changed;
      }
      if (changed.isEmpty()) {
        WatchKey key = service.poll(ASLEEP_MS, TimeUnit.MILLISECONDS);
        if (key != null) {
          key.pollEvents();
          key.reset();
        }
      } else {
        boolean classes = changed.stream().anyMatch(this::isInTree);
        Thread.sleep(classes ? QUIET_AFTER_CLASSES_MS : QUIET_MS);
      }
    }
  }

  boolean isInTree(Path file) {
    return trees.stream().anyMatch(file::startsWith);
  }

  /** What changed since the last look, without waiting. */
  Set<Path> changes() {
    Map<Path, String> now = stamps();
    Set<Path> changed = new HashSet<>();
    now.forEach(
        (file, stamp) -> {
          if (!stamp.equals(seen.get(file))) {
            changed.add(file);
          }
        });
    seen.keySet().stream().filter(file -> !now.containsKey(file)).forEach(changed::add);
    seen = now;
    return changed;
  }

  private Map<Path, String> stamps() {
    Map<Path, String> stamps = new HashMap<>();
    trees.forEach(tree -> look(tree, Integer.MAX_VALUE, stamps));
    folders.forEach(folder -> look(folder, 1, stamps));
    return stamps;
  }

  private void look(Path folder, int depth, Map<Path, String> stamps) {
    try {
      Files.walkFileTree(
          folder,
          Set.of(),
          depth,
          new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult preVisitDirectory(Path inside, BasicFileAttributes attributes) {
              register(inside);
              return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes seenNow) {
              if (!isAside(file.getFileName().toString()) && !seenNow.isDirectory()) {
                stamps.put(
                    file,
                    seenNow.size() + " " + seenNow.lastModifiedTime() + " " + seenNow.fileKey());
              }
              return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult visitFileFailed(Path file, IOException e) {
              return FileVisitResult.CONTINUE; // gone between two looks
            }
          });
    } catch (IOException e) {
      // The folder is gone, or not there yet: nothing is in it.
    }
  }

  private void register(Path folder) {
    WatchKey key = registered.get(folder);
    if (key == null || !key.isValid()) {
      try {
        registered.put(
            folder,
            folder.register(
                service,
                StandardWatchEventKinds.ENTRY_CREATE,
                StandardWatchEventKinds.ENTRY_MODIFY,
                StandardWatchEventKinds.ENTRY_DELETE));
      } catch (IOException e) {
        // Looked at every half second all the same.
      }
    }
  }

  /** What editors put beside a file while they save it. */
  private static boolean isAside(String name) {
    return name.startsWith(".")
        || name.startsWith("#")
        || name.endsWith("~")
        || name.endsWith(".swp")
        || name.endsWith(".tmp")
        || name.equals("4913");
  }

  @Override
  public void close() {
    try {
      service.close();
    } catch (IOException e) {
      Objects.requireNonNull(e); // nothing is left to be done
    }
  }
}
