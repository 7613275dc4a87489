// Ports that have no bits to drive, each of another kind.
class Curator;
  int rank;
endclass

typedef struct {
  logic lit;
  int age;
} label_t;

module undrivable (
    input real angle,
    input string title,
    input label_t label,
    input label_t labels[0:1],
    input struct {logic lit;} loose,
    input union {logic lit; logic bare;} either,
    input int visits[],
    input int queue[$],
    input int by_name[string],
    input event bell,
    input chandle handle,
    input Curator curator,
    input real angles[0:1],
    input logic fine,
    output logic [3:0] good
);
  assign good = {4{fine}};
endmodule
