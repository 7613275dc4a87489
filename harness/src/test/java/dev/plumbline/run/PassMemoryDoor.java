package dev.plumbline.run;

/** Lets tests of other packages ask as another process does. */
public final class PassMemoryDoor {
  private PassMemoryDoor() {}

  /** What comes is asked for the first time. */
  public static void anotherProcess() {
    PassMemory.startAnew();
  }
}
