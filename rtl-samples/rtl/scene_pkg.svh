// Purpose   what the parts of the scene executor share: operations and the instruction word
//
// One operation a word of 24 + 6 W bits, bit 0 lowest. Slot k is the W bits from 24 + k W.
//   3..0    operation
//   11..4   material, unsigned: sphere, half_space, box
//   23..12  target, unsigned address: skip
//   slots   sphere: centre_x, centre_y, centre_z, radius; half_space: normal_x, normal_y, normal_z
//           (each in the low DW bits), level; box and skip: min_x, min_y, min_z, max_x, max_y, max_z
// Bits that an operation does not use are ignored. The codes that are missing below have no effect.

`ifndef SCENE_PKG_SVH
`define SCENE_PKG_SVH

package scene_pkg;

  typedef enum logic [3:0] {
    OpEnd          = 4'd0,
    OpBegin        = 4'd1,
    OpClose        = 4'd2,
    OpSkip         = 4'd3,
    OpSphere       = 4'd4,
    OpHalfSpace    = 4'd5,
    OpBox          = 4'd6,
    OpUnion        = 4'd8,
    OpIntersection = 4'd9,
    OpDifference   = 4'd10
  } operation_e;

endpackage

`endif
