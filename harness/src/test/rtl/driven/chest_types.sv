// Types of the chest's ports.
package chest_types;
  typedef enum logic [1:0] {SPRING, SUMMER, AUTUMN, WINTER} season_t;
  typedef struct packed {
    logic signed [8:0] angle;
    logic [63:0] mark;
  } pose_t;
endpackage
