package dev.plumbline.toolchain;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * A process in which one model runs, so that whatever the model does to it leaves the JVM alone.
 * Commands are numbers, sent over a pipe and answered one by one; what they are about lies in
 * memory that both sides have mapped. The process ends when this is closed or the JVM is gone.
 *
 * <p>Not for use by tests and benches: {@code DutOptions.withIsolated} is the way here. Calls come
 * from one thread at a time; {@link #interrupt} and {@link #kill} from any.
 */
public final class HostProcess implements AutoCloseable {
  private static final int COMMAND_WORDS = 10;
  private static final int REPLY_WORDS = 2;
  private static final int MAP = 0;
  private static final int PRINTED = 1 << 16;
  private static final int SIGNAL = 128;
  private static final List<String> SIGNALS =
      List.of(
          "SIGHUP", "SIGINT", "SIGQUIT", "SIGILL", "SIGTRAP", "SIGABRT", "SIGBUS", "SIGFPE",
          "SIGKILL", "SIGUSR1", "SIGSEGV", "SIGUSR2", "SIGPIPE", "SIGALRM", "SIGTERM");

  private final Process process;
  private final OutputStream commands;
  private final InputStream replies;
  private final ByteBuffer command =
      ByteBuffer.allocate(8 * COMMAND_WORDS).order(ByteOrder.nativeOrder());
  private FileChannel printed;
  private long descriptor;
  private volatile boolean killed;

  private HostProcess(Process process) {
    this.process = process;
    this.commands = process.getOutputStream();
    this.replies = process.getInputStream();
  }

  /** Thrown when the process is gone; {@link #ending} says how. */
  public static final class GoneException extends IOException {
    private static final long serialVersionUID = 1;

    private GoneException(Throwable cause) {
      super("the process of a model is gone", cause);
    }
  }

  /**
   * Memory of both processes.
   *
   * @param bytes it, as this process has it
   * @param address where the other process has it
   */
  public record Shared(ByteBuffer bytes, long address) {}

  /**
   * How a process ended.
   *
   * @param status its exit status, or 128 and a signal
   */
  public record Ending(int status) {
    /**
     * The signal that ended it.
     *
     * @return the signal's number; 0 when none did
     */
    public int signal() {
      return Math.max(0, status - SIGNAL);
    }

    @Override
    public String toString() {
      int signal = signal();
      if (signal == 0) {
        return "exit status " + status;
      }
      return "signal "
          + signal
          + (signal <= SIGNALS.size() ? " (" + SIGNALS.get(signal - 1) + ")" : "");
    }
  }

  /**
   * Starts a process without a model.
   *
   * @param memory the address space it may have, in MB of 2^20 bytes
   * @return the process
   * @throws ToolchainException when its program cannot be compiled or started
   */
  public static HostProcess start(int memory) {
    Path program = new Support(Toolchain.find(), CacheFolder.find()).host();
    try {
      ProcessBuilder builder = new ProcessBuilder(program.toString(), Integer.toString(memory));
      builder.redirectError(ProcessBuilder.Redirect.DISCARD);
      return new HostProcess(builder.start());
    } catch (IOException e) {
      throw ToolchainException.cannotRun(program, e);
    }
  }

  /**
   * Makes memory that both processes have.
   *
   * @param size in bytes, 1 or more
   * @return the memory, all zero
   * @throws GoneException when the process has ended
   */
  public Shared map(long size) throws GoneException {
    long address = call(MAP, size);
    Path file = Path.of("/proc/" + process.pid() + "/fd/" + descriptor);
    try (FileChannel channel =
        FileChannel.open(file, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
      ByteBuffer bytes = channel.map(FileChannel.MapMode.READ_WRITE, 0, size);
      if (printed == null) {
        // Opened while the process lives, to be read when it is gone.
        printed = FileChannel.open(Path.of("/proc/" + process.pid() + "/fd/1"));
      }
      return new Shared(bytes.order(ByteOrder.nativeOrder()), address);
    } catch (IOException e) {
      throw new ToolchainException(
          "Memory cannot be shared with the process of a model: "
              + e
              + "; -Dplumbline.isolated=false runs it in this process",
          e);
    }
  }

  /**
   * Has the process do one thing, and waits for it.
   *
   * @param function what, as host.cpp numbers it
   * @param arguments at most nine
   * @return the result
   * @throws GoneException when the process has ended, before or meanwhile
   */
  public long call(int function, long... arguments) throws GoneException {
    command.clear().putLong(function);
    for (long argument : arguments) {
      command.putLong(argument);
    }
    try {
      commands.write(command.array());
      commands.flush();
      byte[] reply = replies.readNBytes(8 * REPLY_WORDS);
      if (reply.length < 8 * REPLY_WORDS) {
        throw new EOFException();
      }
      ByteBuffer words = ByteBuffer.wrap(reply).order(ByteOrder.nativeOrder());
      descriptor = words.getLong(8);
      return words.getLong(0);
    } catch (IOException e) {
      throw new GoneException(e);
    }
  }

  /** Asks a model that makes no progress to give up; only its loops can. */
  public void interrupt() {
    // Process.destroy would close the pipes as well.
    process.toHandle().destroy();
  }

  /** Ends the process at once. */
  public void kill() {
    killed = true;
    process.toHandle().destroyForcibly();
  }

  /**
   * Whether {@link #kill} was called.
   *
   * @return true when it was
   */
  public boolean killed() {
    return killed;
  }

  /**
   * How the process ended; waits until it has.
   *
   * @return its exit status or signal
   */
  public Ending ending() {
    return new Ending(await());
  }

  /**
   * What was printed on the process's standard output and error, as by C functions.
   *
   * @return the newest 64 KiB
   */
  public String printed() {
    try {
      if (printed == null) {
        return "";
      }
      long size = printed.size();
      ByteBuffer bytes = ByteBuffer.allocate((int) Math.min(PRINTED, size));
      while (bytes.hasRemaining() && printed.read(bytes, size - bytes.remaining()) > 0) {
        // Nearly always one read is enough.
      }
      return new String(bytes.array(), 0, bytes.position(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      return "";
    }
  }

  private int await() {
    boolean interrupted = false;
    try {
      while (true) {
        try {
          return process.waitFor();
        } catch (InterruptedException e) {
          interrupted = true;
        }
      }
    } finally {
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }

  /** Lets the process end; one that does not within five seconds is killed. */
  @Override
  public void close() {
    try {
      commands.close();
    } catch (IOException e) {
      // It is gone already.
    }
    try {
      if (!process.waitFor(5, TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
    } catch (InterruptedException e) {
      process.destroyForcibly();
      Thread.currentThread().interrupt();
    }
    await();
    try {
      replies.close();
      if (printed != null) {
        printed.close();
      }
    } catch (IOException e) {
      // Nothing was written there.
    }
  }
}
