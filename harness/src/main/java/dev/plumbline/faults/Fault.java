package dev.plumbline.faults;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * A fault to plant in a copy of RTL: pieces of one file and what stands there instead. A bench that
 * has never caught a fault has not shown that it can.
 *
 * <pre>{@code
 * Fault fault = Fault.of("carry dropped", "gear.v", "product >>> 12", "product[30:0] >>> 12");
 * CompiledDesign faulty = CompiledDesign.of(fault.plantedIn(rtl, folder));
 * assertFalse(bench(faulty).run().isPass());
 * }</pre>
 *
 * <p>Immutable. The RTL itself is never touched.
 *
 * @param name short and unique
 * @param kind what is wrong
 * @param shows the least that a stream must have for the fault to show
 * @param bench the name of the bench that has to see it; empty where it goes without saying
 * @param what what it does wrong, and how often
 * @param file the file that is changed, by the name or path that the RTL has it under: the name of
 *     a source file, or a path below one of the folders that are searched
 * @param changes one or more; each original stands in the file once when its turn comes
 */
public record Fault(
    String name,
    Kind kind,
    Shows shows,
    String bench,
    String what,
    String file,
    List<Change> changes) {

  public Fault {
    changes = List.copyOf(changes);
    if (changes.isEmpty()) {
      throw new FaultException("Fault \"" + name + "\" changes nothing; give it a change.");
    }
  }

  /** What is wrong, so that a quick run can plant some of each kind. */
  public enum Kind {
    /** An operand of another signal, axis or side. */
    OPERAND,
    /** A comparison or a condition. */
    DECISION,
    /** A rounding, or bits that are dropped before it. */
    ROUNDING,
    /** What happens beyond the ends of a format. */
    SATURATION,
    /** A sign that is lost, or taken for one. */
    SIGN,
    /** A word, carry or index with too few bits, or one that does not wrap where it should. */
    WIDTH,
    /** A value, or its valid bit, in another cycle than its own. */
    LATENCY,
    /** What happens while a result has to wait, or a case that has to. */
    STALL,
    /** State that outlives a reset, a flush or its own case. */
    RESET,
    /** Results, or the work for them, in another order. */
    ORDER,
    /** A count. */
    COUNTER,
    /** Right with the default parameters, wrong with others. */
    PARAMETER,
    /** A word of a memory or table. */
    MEMORY
  }

  /** What a stream must have for a fault to show. */
  public enum Shows {
    /** Nothing but the right operands, even one at a time. */
    ANY_STREAM,
    /** Different cases in consecutive cycles. */
    BACK_TO_BACK,
    /** A cycle without a case between two with one. */
    BUBBLES,
    /** A result that the consumer does not take at once. */
    STALLS,
    /** A reset of one cycle while cases are in flight and another arrives. */
    ONE_CYCLE_RESET
  }

  /**
   * One piece of text and what takes its place.
   *
   * @param original the exact text to replace
   * @param replacement what stands there instead
   */
  public record Change(String original, String replacement) {}

  /**
   * A wrong decision or value that any stream shows.
   *
   * @param name short and unique
   * @param file the file that is changed, as in {@link Fault}
   * @param original the exact text to replace
   * @param replacement what stands there instead
   * @return the fault, of kind {@link Kind#DECISION}
   */
  public static Fault of(String name, String file, String original, String replacement) {
    return new Fault(
        name,
        Kind.DECISION,
        Shows.ANY_STREAM,
        "",
        name,
        file,
        List.of(new Change(original, replacement)));
  }

  /**
   * Adds a change of the same file, made after those before.
   *
   * @param original the exact text to replace
   * @param replacement what stands there instead
   * @return a copy with that change
   */
  public Fault and(String original, String replacement) {
    List<Change> more = new ArrayList<>(changes);
    more.add(new Change(original, replacement));
    return new Fault(name, kind, shows, bench, what, file, more);
  }

  /**
   * Writes a copy of the file with the fault in it, and gives the RTL that reads the copy in place
   * of the original.
   *
   * @param rtl what the fault is planted in; a file that stands in a file list alone is not found
   * @param folder where the copy goes; made if need be, else the copy replaces an earlier one
   * @return the same source files, parameters and folders, the copy before all
   * @throws FaultException when the file is not among them, or an original does not stand in it
   *     exactly once
   */
  public RtlSource plantedIn(RtlSource rtl, Path folder) {
    return new PlantedCopy(this, folder).of(rtl);
  }

  @Override
  public String toString() {
    return name;
  }
}
