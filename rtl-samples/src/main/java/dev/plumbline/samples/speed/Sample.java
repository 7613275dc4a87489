package dev.plumbline.samples.speed;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** Repeated readings of one thing. */
final class Sample {
  private final List<Double> readings = new ArrayList<>();

  void add(double reading) {
    readings.add(reading);
  }

  double median() {
    List<Double> sorted = new ArrayList<>(readings);
    Collections.sort(sorted);
    int middle = sorted.size() / 2;
    return sorted.size() % 2 == 1
        ? sorted.get(middle)
        : (sorted.get(middle - 1) + sorted.get(middle)) / 2;
  }

  double least() {
    return Collections.min(readings);
  }

  double most() {
    return Collections.max(readings);
  }

  int count() {
    return readings.size();
  }
}
