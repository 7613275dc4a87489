package dev.plumbline.contract;

/** How a block takes cases that it may not take in every cycle. */
public enum Taking {
  /** It takes what is valid. */
  ALWAYS,
  /** Valid stands until valid and ready are both high. */
  WHEN_READY,
  /** Valid is high for a cycle, in one after the block was seen not to be busy. */
  WHEN_NOT_BUSY,
  /** Valid is high for a cycle, in one after the result of the case before was seen. */
  WHEN_DONE
}
