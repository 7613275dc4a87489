package dev.plumbline.cosim;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;

/**
 * How a model is opened and what it may do.
 *
 * <pre>{@code
 * DutOptions options = DutOptions.defaults().withSeed(7).withInitialState(InitialState.RANDOM);
 * }</pre>
 *
 * @param seed of {@code $random} and its kin, and of a random initial state
 * @param initialState what registers and memories hold at first
 * @param timeout how long a call may make no progress before it is ended; more than zero
 * @param continueOnError whether the model goes on after {@code $error}, which is then only counted
 * @param systemCallsAllowed whether {@code $system} runs its command; else it gives -1
 * @param missingMemoryFilesAllowed whether a file that {@code $readmemh} or {@code $readmemb}
 *     cannot find leaves the memory as it is instead of ending the model
 * @param clocking the clocks; empty for the design's only clock, or none where it has none
 * @param folders where files that the RTL reads under a relative name are looked for, after the
 *     working folder and before the folders of its sources
 * @param plusargs what {@code $test$plusargs} and {@code $value$plusargs} find, without the plus
 * @param isolated whether the model runs in a process of its own, so that whatever it does is an
 *     exception here; empty for designs alone that have C code, import C functions, read files, or
 *     have classes, strings, queues or dynamic arrays. A call then takes some microseconds more
 * @param memory the address space that a process of its own may have, its stack of 256 MB and all
 *     batches included, in MB of 2^20 bytes; 512 or more. A model that asks for more ends by {@link
 *     DutEndedException}
 */
public record DutOptions(
    long seed,
    InitialState initialState,
    Duration timeout,
    boolean continueOnError,
    boolean systemCallsAllowed,
    boolean missingMemoryFilesAllowed,
    Optional<Clocking> clocking,
    List<Path> folders,
    List<String> plusargs,
    Optional<Boolean> isolated,
    int memory) {
  private static final int LEAST_MEMORY = 512;
  private static final int USUAL_MEMORY = 8192;

  /** Checks the ranges. */
  public DutOptions {
    Objects.requireNonNull(initialState, "initialState");
    Objects.requireNonNull(clocking, "clocking");
    Objects.requireNonNull(isolated, "isolated");
    folders = folders.stream().map(folder -> folder.toAbsolutePath().normalize()).toList();
    plusargs = List.copyOf(plusargs);
    for (String word : plusargs) {
      if (word.isEmpty() || word.indexOf('\0') >= 0 || word.startsWith("verilator")) {
        throw new IllegalArgumentException(
            "The plusarg \""
                + word
                + "\" cannot be given; allowed is a word without its plus that does not begin with"
                + " \"verilator\".");
      }
    }
    if (timeout.isZero() || timeout.isNegative()) {
      throw new IllegalArgumentException(
          "The timeout is " + timeout + "; allowed is more than zero.");
    }
    if (memory < LEAST_MEMORY) {
      throw new IllegalArgumentException(
          "The memory is " + memory + " MB; allowed is " + LEAST_MEMORY + " or more.");
    }
  }

  /**
   * Seed 1, all zeros, ten seconds of timeout, nothing allowed; in a process of its own as the
   * property {@code plumbline.isolated} says, {@code true} or {@code false}, which may have 8 GB.
   *
   * @return the options
   */
  public static DutOptions defaults() {
    return new DutOptions(
        1,
        InitialState.ZEROS,
        Duration.ofSeconds(10),
        false,
        false,
        false,
        Optional.empty(),
        List.of(),
        List.of(),
        isolatedByProperty(),
        USUAL_MEMORY);
  }

  /**
   * Chooses the seed.
   *
   * @param value any value
   * @return a copy
   */
  public DutOptions withSeed(long value) {
    return copy(copy -> copy.seed = value);
  }

  /**
   * Chooses the initial state.
   *
   * @param state the state
   * @return a copy
   */
  public DutOptions withInitialState(InitialState state) {
    return copy(copy -> copy.initialState = state);
  }

  /**
   * Chooses the timeout.
   *
   * @param time more than zero
   * @return a copy
   */
  public DutOptions withTimeout(Duration time) {
    return copy(copy -> copy.timeout = time);
  }

  /**
   * Goes on after {@code $error}.
   *
   * @return a copy
   */
  public DutOptions withContinueOnError() {
    return copy(copy -> copy.continueOnError = true);
  }

  /**
   * Lets {@code $system} run commands.
   *
   * @return a copy
   */
  public DutOptions withSystemCallsAllowed() {
    return copy(copy -> copy.systemCallsAllowed = true);
  }

  /**
   * Lets memory files be missing.
   *
   * @return a copy
   */
  public DutOptions withMissingMemoryFilesAllowed() {
    return copy(copy -> copy.missingMemoryFilesAllowed = true);
  }

  /**
   * Names the clocks.
   *
   * @param clocks the clocks
   * @return a copy
   */
  public DutOptions withClocking(Clocking clocks) {
    return copy(copy -> copy.clocking = Optional.of(clocks));
  }

  /**
   * Names folders in which files that the RTL reads are looked for, such as those of {@code
   * $readmemh}. The working folder comes before them, the folders of the RTL's sources after them.
   *
   * @param places the folders, in order; none exchanges those that were named before for none
   * @return a copy
   */
  public DutOptions withFolders(Path... places) {
    return copy(copy -> copy.folders = List.of(places));
  }

  /** With further folders behind those that are named. */
  DutOptions alsoIn(List<Path> places) {
    return copy(
        copy ->
            copy.folders = Stream.concat(folders.stream(), places.stream()).distinct().toList());
  }

  /**
   * Gives the model plusargs.
   *
   * @param words what {@code $test$plusargs} and {@code $value$plusargs} look for, each without its
   *     plus, such as {@code "trace"} or {@code "depth=5"}
   * @return a copy
   */
  public DutOptions withPlusargs(String... words) {
    return copy(copy -> copy.plusargs = List.of(words));
  }

  /**
   * Chooses whether the model has a process of its own.
   *
   * @param on whether it has
   * @return a copy
   */
  public DutOptions withIsolated(boolean on) {
    return copy(copy -> copy.isolated = Optional.of(on));
  }

  /**
   * Chooses how much memory a process of its own may have.
   *
   * @param megabytes 512 or more
   * @return a copy
   */
  public DutOptions withMemory(int megabytes) {
    return copy(copy -> copy.memory = megabytes);
  }

  private DutOptions copy(Consumer<Copy> change) {
    Copy copy = new Copy(this);
    change.accept(copy);
    return copy.options();
  }

  /** The same parts, to be changed before they are options again. */
  private static final class Copy {
    private long seed;
    private InitialState initialState;
    private Duration timeout;
    private boolean continueOnError;
    private boolean systemCallsAllowed;
    private boolean missingMemoryFilesAllowed;
    private Optional<Clocking> clocking;
    private List<Path> folders;
    private List<String> plusargs;
    private Optional<Boolean> isolated;
    private int memory;

    private Copy(DutOptions of) {
      seed = of.seed;
      initialState = of.initialState;
      timeout = of.timeout;
      continueOnError = of.continueOnError;
      systemCallsAllowed = of.systemCallsAllowed;
      missingMemoryFilesAllowed = of.missingMemoryFilesAllowed;
      clocking = of.clocking;
      folders = of.folders;
      plusargs = of.plusargs;
      isolated = of.isolated;
      memory = of.memory;
    }

    private DutOptions options() {
      return new DutOptions(
          seed,
          initialState,
          timeout,
          continueOnError,
          systemCallsAllowed,
          missingMemoryFilesAllowed,
          clocking,
          folders,
          plusargs,
          isolated,
          memory);
    }
  }

  /** Bits as plumb.h has them. */
  int flags() {
    return (continueOnError ? 1 : 0)
        | (systemCallsAllowed ? 2 : 0)
        | (missingMemoryFilesAllowed ? 4 : 0);
  }

  /**
   * Plusargs and folders as plumb.h wants them: plusargs with their plus, each text with its end,
   * and an empty one last.
   */
  byte[] texts() {
    StringBuilder all = new StringBuilder();
    plusargs.forEach(word -> all.append('+').append(word).append('\0'));
    folders.forEach(folder -> all.append(folder).append('\0'));
    return all.append('\0').toString().getBytes(StandardCharsets.UTF_8);
  }

  private static Optional<Boolean> isolatedByProperty() {
    String value = System.getProperty("plumbline.isolated", "");
    return switch (value) {
      case "" -> Optional.empty();
      case "true", "false" -> Optional.of(Boolean.valueOf(value));
      default ->
          throw new IllegalArgumentException(
              "Property plumbline.isolated is \"" + value + "\"; allowed is true or false.");
    };
  }
}
