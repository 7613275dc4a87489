package dev.plumbline.run;

/** Lets tests of other packages ask as another process does. */
public final class PassMemoryDoor {
  /** Names what tests that use this door share, so that they do not run side by side. */
  public static final String SHARED = "what was asked of PassMemory";

  private PassMemoryDoor() {}

  /** What comes is asked for the first time. */
  public static void anotherProcess() {
    PassMemory.startAnew();
  }
}
