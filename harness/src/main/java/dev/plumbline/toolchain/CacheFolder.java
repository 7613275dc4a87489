package dev.plumbline.toolchain;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.PosixFileAttributes;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.locks.LockSupport;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.UnaryOperator;

/**
 * The folder where builds are kept, shared by every process of one user.
 *
 * <p>An entry appears whole or not at all: it is made in a work folder and renamed. Who makes one
 * holds the lock of its stripe, in this JVM and against other processes; the system frees the lock
 * of a process that is killed. There is a fixed number of stripes, since a lock file cannot be
 * removed safely. A work folder belongs to a stripe, so whoever holds the stripe's lock knows that
 * a work folder of it was left behind by a kill, and removes it.
 */
final class CacheFolder {
  private static final ConcurrentHashMap<Path, ReentrantLock> LOCKS = new ConcurrentHashMap<>();
  private static final Duration ASKED_EVERY = Duration.ofMillis(20);
  private static final Set<PosixFilePermission> OTHERS_WRITE =
      Set.of(PosixFilePermission.GROUP_WRITE, PosixFilePermission.OTHERS_WRITE);

  private final Path root;

  private CacheFolder(Path root) {
    this.root = root;
  }

  /** The folder that {@code plumbline.cache} names, else {@code plumbline} in the user's cache. */
  static CacheFolder find() {
    return at(place(System::getProperty, System::getenv));
  }

  /** Where the cache is by properties and environment; a user without a home has to name one. */
  static Path place(UnaryOperator<String> property, UnaryOperator<String> environment) {
    String named = Optional.ofNullable(property.apply("plumbline.cache")).orElse("");
    if (!named.isBlank()) {
      return Path.of(named);
    }
    // A relative one is to be ignored (XDG Base Directory Specification).
    Optional<Path> cache =
        absolute(environment.apply("XDG_CACHE_HOME"))
            .or(() -> absolute(environment.apply("HOME")).map(home -> home.resolve(".cache")))
            .or(() -> absolute(property.apply("user.home")).map(home -> home.resolve(".cache")));
    return cache
        .map(folder -> folder.resolve("plumbline"))
        .orElseThrow(
            () ->
                new ToolchainException(
                    "There is no place for the cache of builds: neither XDG_CACHE_HOME nor HOME is"
                        + " an absolute path, and the system knows no home of this user (user.home"
                        + " is \""
                        + property.apply("user.home")
                        + "\"). Set HOME, or name a folder by -Dplumbline.cache=FOLDER."));
  }

  /** The JDK says "?" of a user who has no entry in the list of users. */
  private static Optional<Path> absolute(String path) {
    return Optional.ofNullable(path).filter(text -> text.startsWith("/")).map(Path::of);
  }

  /** Makes the folder if need be, and refuses one where others could plant code. */
  static CacheFolder at(Path folder) {
    Path root = folder.toAbsolutePath().normalize();
    try {
      if (root.getParent() != null) {
        Files.createDirectories(root.getParent());
      }
      own(root);
      for (String part : new String[] {"locks", "work", "elaborated", "libraries", "support"}) {
        own(root.resolve(part));
      }
    } catch (IOException e) {
      throw failed(root, e);
    }
    return new CacheFolder(root);
  }

  /** Makes a folder if it is not there, and in either case sees that it is the user's alone. */
  private static void own(Path folder) throws IOException {
    if (!Files.isDirectory(folder)) {
      try {
        Files.createDirectory(
            folder,
            PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rwx------")));
      } catch (FileAlreadyExistsException e) {
        // Another process was quicker; the check below holds for its folder too.
      }
    }
    refuseUnlessOwned(folder);
  }

  private static void refuseUnlessOwned(Path root) throws IOException {
    PosixFileAttributes attributes = Files.readAttributes(root, PosixFileAttributes.class);
    String owner = attributes.owner().getName();
    String user = Files.getOwner(Path.of("/proc/self")).getName();
    if (!owner.equals(user)) {
      throw unusable(root, "it belongs to " + owner + " and this process runs as " + user);
    }
    if (attributes.permissions().stream().anyMatch(OTHERS_WRITE::contains)) {
      throw unusable(
          root,
          "others than its owner may write there ("
              + PosixFilePermissions.toString(attributes.permissions())
              + "), and so run code as "
              + user);
    }
  }

  private static ToolchainException unusable(Path root, String why) {
    return new ToolchainException(
        "The cache folder "
            + root
            + " cannot be used: "
            + why
            + ". A folder that only its owner can write is needed; remove it, run chmod 700 on it,"
            + " or name another by -Dplumbline.cache=FOLDER.");
  }

  private static ToolchainException failed(Path root, IOException e) {
    return new ToolchainException(
        "The cache folder "
            + root
            + " cannot be used: "
            + IoText.of(e)
            + ". A folder with room and leave to write is needed; make room, or name another by"
            + " -Dplumbline.cache=FOLDER.",
        e);
  }

  /** Where an entry stands, there or not. */
  Path entry(String kind, String name) {
    return root.resolve(kind).resolve(name);
  }

  /** What is done under a lock. */
  interface Work<T> {
    /** Does it, with an empty folder of its own that is removed afterwards. */
    T in(Path folder) throws IOException;
  }

  /**
   * Does the work while nobody else, in this or another process, holds the same lock. Inside work
   * of one kind only locks of another kind may be asked for, so that nobody waits in a circle.
   */
  <T> T locked(String kind, String key, Work<T> work) {
    String stripe = kind + "-" + Digest.of(key).substring(0, 2);
    Path file = entry("locks", stripe);
    ReentrantLock lock = LOCKS.computeIfAbsent(file, f -> new ReentrantLock());
    lock.lock();
    try (FileChannel channel =
        FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
      hold(channel);
      removeLeftovers(stripe);
      Path folder = entry("work", stripe + "-" + UUID.randomUUID());
      Unfinished.add(folder);
      try {
        return work.in(Files.createDirectory(folder));
      } finally {
        removeIfPossible(folder);
        Unfinished.remove(folder);
      }
    } catch (IOException e) {
      throw failed(root, e);
    } finally {
      lock.unlock();
    }
  }

  /**
   * Waits for the lock of a file. The system takes the threads of a process for one: where one of
   * them holds what another process waits for, and a second one waits for what that process holds,
   * it sees a circle and refuses to wait. There is none, so the lock is asked for until it is free.
   */
  private static void hold(FileChannel channel) throws IOException {
    try {
      channel.lock();
    } catch (IOException refused) {
      while (channel.tryLock() == null) {
        LockSupport.parkNanos(ASKED_EVERY.toNanos());
      }
    }
  }

  /** Lets a finished file, in place of an older one, or a finished folder appear as an entry. */
  void publish(Path finished, Path entry) throws IOException {
    // Else a power cut may leave the name without the content.
    force(finished);
    try {
      Files.move(finished, entry, StandardCopyOption.ATOMIC_MOVE);
    } catch (FileSystemException e) {
      // A folder is named by its content, so one that is there already is as good.
      if (!Files.isDirectory(entry)) {
        throw e;
      }
    }
  }

  private static void force(Path finished) throws IOException {
    if (Files.isDirectory(finished)) {
      try (var files = Files.newDirectoryStream(finished)) {
        for (Path file : files) {
          force(file);
        }
      }
    } else {
      try (FileChannel channel = FileChannel.open(finished, StandardOpenOption.WRITE)) {
        channel.force(true);
      }
    }
  }

  private void removeLeftovers(String stripe) throws IOException {
    try (var folders = Files.newDirectoryStream(root.resolve("work"), stripe + "-*")) {
      for (Path folder : folders) {
        removeIfPossible(folder);
      }
    }
  }

  /**
   * Removes a work folder, unless somebody still writes there: a program outlives the builder that
   * was killed while it ran. Then whoever comes next removes what is left.
   */
  private static void removeIfPossible(Path folder) {
    try {
      remove(folder);
    } catch (IOException e) {
      // It disturbs nobody: every work folder has a name of its own.
    }
  }

  /**
   * Refuses a file system from which nothing may run, before anything is compiled for it.
   *
   * @param folder one of the cache, in which a file may be made
   */
  static void requireExecution(Path folder) throws IOException {
    Path probe =
        Files.createFile(
            folder.resolve("probe"),
            PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rwx------")));
    boolean runs = Files.isExecutable(probe);
    Files.delete(probe);
    if (!runs) {
      throw ToolchainException.noExecution(folder);
    }
  }

  /** Removes a folder and all in it; what is gone already is no error. */
  static void remove(Path folder) throws IOException {
    Files.walkFileTree(
        folder,
        new SimpleFileVisitor<>() {
          @Override
          public FileVisitResult visitFile(Path file, BasicFileAttributes attributes)
              throws IOException {
            Files.deleteIfExists(file);
            return FileVisitResult.CONTINUE;
          }

          @Override
          public FileVisitResult visitFileFailed(Path file, IOException e) throws IOException {
            if (e instanceof NoSuchFileException) {
              return FileVisitResult.CONTINUE;
            }
            throw e;
          }

          @Override
          public FileVisitResult postVisitDirectory(Path visited, IOException e)
              throws IOException {
            Files.deleteIfExists(visited);
            return FileVisitResult.CONTINUE;
          }
        });
  }
}
