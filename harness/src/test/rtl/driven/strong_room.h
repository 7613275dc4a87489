#define GRAINS 3
