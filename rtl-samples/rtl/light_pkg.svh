// Purpose   what the parts of the ray sequencer share

`ifndef LIGHT_PKG_SVH
`define LIGHT_PKG_SVH

package light_pkg;

  // How many low bits vector_unit rounds away.
  typedef enum logic [2:0] {
    DropNothing,
    DropWord,       // F: a product of words becomes a word
    DropDirection,  // DF: a word times a direction becomes a word, two directions one
    DropToUnit,     // 2F - DF: a product of words becomes a direction
    DropWordToUnit, // F - DF: a word becomes a direction
    DropToShare,    // 2 DF - 16: a product of directions becomes a share of 16 fraction bits
    DropShare,      // 16
    DropColour      // 8
  } drop_e;

  // What a pixel in hand waits for.
  typedef enum logic [4:0] {
    StepIdle,
    StepAcross,     // u: corner + x step_x
    StepDown,       //    + y step_y
    StepSquare,     // u.u
    StepRoot,       // |u|
    StepLength,     // 1 / |u|
    StepDirection,
    StepInverses,
    StepRay,        // offered
    StepResult,     // awaited
    StepPoint,
    StepNormal,
    StepFacing,
    StepShare,      // c
    StepOffset,     // p'
    StepLevel,
    StepOwn,        // base colour by level
    StepMirror,     // m
    StepReflect,    // direction - 2 m normal
    StepReflected,  // reflected colour by s
    StepKept,       // own colour by s, and their sum
    StepOffer
  } step_e;

  // Clocks from the last operands of a sum to its result.
  function automatic int unsigned vector_latency();
    vector_latency = 7;
  endfunction

  // Bits of vector_unit's first operand: the difference of two words, minus twice a rounded scalar
  // product of two directions, and a share with its sign.
  function automatic int unsigned operand_width(input int unsigned w, input int unsigned dw,
                                                input int unsigned df);
    operand_width = w + 1;
    if (2 * dw + 3 - df > operand_width) operand_width = 2 * dw + 3 - df;
    if (2 * (dw - df) + 19 > operand_width) operand_width = 2 * (dw - df) + 19;
  endfunction

endpackage

`endif
