package dev.plumbline.cosim;

import dev.plumbline.rtl.PortLayout;
import dev.plumbline.rtl.Signal;
import dev.plumbline.text.Names;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;

/** Where the signals inside an open model of a probe build are, by name. */
final class Internals {
  /** What stands before every name that Verilator lists. */
  private static final String ROOT = "TOP.";

  /**
   * A signal, or an element of one.
   *
   * @param signal the signal
   * @param number of the signal in the model's list
   * @param element of an array, counted from 0
   * @param offset of the element where everything is kept, in bytes
   * @param bytes of an element
   */
  record Place(Signal signal, int number, int element, int offset, int bytes) {
    String name() {
      return PortLayout.elements(signal.path(), signal.unpacked()).get(element);
    }

    private Place at(int other) {
      return new Place(signal, number, other, offset + (other - element) * bytes, bytes);
    }
  }

  private final String top;
  private final LiveDesign instance;
  private final LiveDesign.Memory everything;
  private final Map<String, Place> places = new LinkedHashMap<>();

  Internals(CompiledDesign model, LiveDesign instance) {
    this.instance = instance;
    top = model.design().top();
    Map<String, Place> listed = new HashMap<>();
    int number = 0;
    int size = 0;
    for (String line : instance.signals().split("\n", -1)) {
      String[] parts = line.split(" ", 3);
      if (parts.length == 3) {
        int bytes = Integer.parseInt(parts[0]);
        listed.put(parts[2], new Place(null, number++, 0, size, bytes));
        size = Math.addExact(size, Integer.parseInt(parts[1]));
      }
    }
    for (Signal signal : model.signals().all()) {
      Place place = listed.get(ROOT + signal.path());
      // Of some names Verilator keeps nothing, and of some types it has a layout of its own.
      if (place != null && place.bytes() == bytes(signal.width())) {
        places.put(
            signal.path(), new Place(signal, place.number(), 0, place.offset(), place.bytes()));
      }
    }
    everything = instance.memory(Math.max(Long.BYTES, size));
    instance.keep(everything);
  }

  /** Bytes of the smallest type of C++ that Verilator has for so many bits. */
  private static int bytes(int width) {
    return width <= 8 ? 1 : width <= 16 ? 2 : width <= 32 ? 4 : (width + 31) / 32 * 4;
  }

  /** Has all signals as they are at this moment. */
  void keepAgain() {
    instance.keep(everything);
  }

  /** The signals that can be read, parents before children. */
  List<Signal> signals() {
    return places.values().stream().map(Place::signal).toList();
  }

  boolean has(String name) {
    int bracket = name.lastIndexOf('[');
    return whole(name) != null || (bracket > 0 && whole(name.substring(0, arrayEnd(name))) != null);
  }

  /**
   * Finds a signal, or an element such as {@code gear.table[3]}; the top's name may be left out.
   */
  Place find(String name) {
    Place whole = whole(name);
    if (whole == null && arrayEnd(name) < name.length()) {
      Place array = whole(name.substring(0, arrayEnd(name)));
      if (array != null) {
        return element(name, array, name.substring(arrayEnd(name)));
      }
    }
    if (whole == null) {
      throw new PortException(
          "Module "
              + top
              + " has no signal \""
              + name
              + "\" inside; "
              + Names.hint(name.startsWith(top + ".") ? name : top + "." + name, places.keySet()));
    }
    if (!whole.signal().unpacked().isEmpty()) {
      throw new PortException(
          "Signal \"" + name + "\" is an array; name an element, as in \"" + name + "[0]\"");
    }
    return whole;
  }

  private Place whole(String name) {
    Place place = places.get(name);
    return place != null ? place : places.get(top + "." + name);
  }

  /** Where the indices at the end of a name begin; its length where there are none. */
  private static int arrayEnd(String name) {
    int end = name.length();
    while (end > 0 && name.charAt(end - 1) == ']' && name.lastIndexOf('[', end - 1) > 0) {
      end = name.lastIndexOf('[', end - 1);
    }
    return end;
  }

  private static Place element(String name, Place array, String indices) {
    OptionalInt element = PortLayout.element(array.signal().unpacked(), indices);
    if (element.isEmpty()) {
      StringBuilder ranges = new StringBuilder();
      array.signal().unpacked().forEach(ranges::append);
      throw new PortException(
          "Signal \""
              + array.signal().path()
              + "\" has no element \""
              + name
              + "\"; "
              + (ranges.isEmpty() ? "it is no array" : "its indices are " + ranges));
    }
    return array.at(element.getAsInt());
  }

  /** What a signal had at the last row, or as everything was kept last, in its words. */
  long[] words(Place place) {
    ByteBuffer bytes = everything.bytes().duplicate().order(ByteOrder.nativeOrder());
    Signal signal = place.signal();
    long[] words = new long[signal.words()];
    for (int i = 0; i < 8 * words.length; i++) {
      long some = i < place.bytes() ? bytes.get(place.offset() + i) & 0xffL : 0;
      words[i / 8] |= some << (i % 8 * 8);
    }
    int last = words.length - 1;
    words[last] = Values.extend(words[last], signal.width() - 64 * last, signal.signed());
    return words;
  }

  /** What the model is told to record: four words for each place. */
  static List<Long> order(List<Place> places) {
    List<Long> list = new ArrayList<>();
    for (Place place : places) {
      Signal signal = place.signal();
      list.add((long) place.number());
      list.add((long) place.element());
      list.add((long) signal.width());
      list.add(signal.signed() ? 1L : 0L);
    }
    return list;
  }
}
