package dev.plumbline.check;

/** A DUT in software, so that the checker can be tried without a tool chain. */
public interface SoftDut {
  /** Drives the outputs from the state and the inputs. */
  void settle(Pins pins);

  /** The rising edge of the clock. */
  void edge(Pins pins);
}
