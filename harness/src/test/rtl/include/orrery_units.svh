// Types of the orrery that stand in an include file, as most designs keep theirs.
package orrery_units;
  typedef enum logic [1:0] {REST, SWEEP = 2'd2, ECLIPSE} phase_t;
  typedef phase_t season_t;
  typedef enum logic signed [2:0] {BEHIND = -2, BESIDE = -1, AHEAD = 3} lead_t;
  typedef logic signed [3:0] notch_t;
  typedef notch_t [1:0] pair_t;
  typedef logic [7:0] slide_t [0:1];
  typedef struct packed {
    logic signed [15:0] angle;
    logic [7:0] planet;
  } pose_t;
  typedef struct /* the whole is a number */ packed signed {
    logic [3:0] coarse;
    notch_t fine;
  } setting_t;
  typedef union packed {
    logic [7:0] raw;
    struct packed {
      logic [3:0] high;
      logic [3:0] low;
    } half;
  } code_t;
  typedef struct packed {
    pose_t [1:0] pose;
    phase_t phase;
    code_t code;
  } message_t;
endpackage

// The same type name again, of another kind.
package orrery_frames;
  typedef enum {EVEN, ODD} phase_t;
endpackage
