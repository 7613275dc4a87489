package dev.plumbline.cosim;

/** What registers and memories hold before anything has run. */
public enum InitialState {
  /** All bits zero. */
  ZEROS(0),
  /** All bits one. */
  ONES(1),
  /** Drawn from the seed, so that a forgotten reset shows. */
  RANDOM(2);

  /** Verilator's own number for it. */
  final int code;

  InitialState(int code) {
    this.code = code;
  }
}
