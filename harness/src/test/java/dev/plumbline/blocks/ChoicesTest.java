package dev.plumbline.blocks;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.unit.Reciprocal;
import java.util.List;
import org.junit.jupiter.api.Test;

class ChoicesTest {
  @Test
  void fewestChangesComeFirstAndNoMoreThanTwoAtOnce() {
    List<String> others =
        List.copyOf(
            Choices.of("own")
                .or("overflow", Overflow.SATURATE, (block, other) -> block + " " + other)
                .or("atZero", Reciprocal.AtZero.ZERO, (block, other) -> block + " " + other)
                .or("again", Overflow.WRAP, (block, other) -> block + " " + other)
                .others()
                .entrySet()
                .stream()
                .map(Object::toString)
                .toList());
    assertEquals(
        List.of(
            ".overflow(WRAP)=own WRAP",
            ".atZero(LARGEST)=own LARGEST",
            ".again(SATURATE)=own SATURATE",
            ".overflow(WRAP).atZero(LARGEST)=own WRAP LARGEST",
            ".overflow(WRAP).again(SATURATE)=own WRAP SATURATE",
            ".atZero(LARGEST).again(SATURATE)=own LARGEST SATURATE"),
        others);
  }
}
