#include <stdio.h>
#include "strong_room.h"

int weigh(int amount) {
  if (amount == 77) printf("seventy-seven is heavy\n");
  return GRAINS * amount;
}
