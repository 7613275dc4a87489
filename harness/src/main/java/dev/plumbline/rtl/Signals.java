package dev.plumbline.rtl;

import java.util.List;
import java.util.Map;

/**
 * The signals of a design and what each is made from.
 *
 * @param all every signal, parents before children
 * @param sources by path, the paths of the signals in the values that it is assigned and in the
 *     conditions under which it is
 */
public record Signals(List<Signal> all, Map<String, List<String>> sources) {
  public Signals {
    all = List.copyOf(all);
    sources = Map.copyOf(sources);
  }
}
