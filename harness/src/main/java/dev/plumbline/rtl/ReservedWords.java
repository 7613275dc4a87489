package dev.plumbline.rtl;

import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Words that SystemVerilog reserves and Verilog does not: a Verilog file may use them as names, and
 * is not read where it is taken for SystemVerilog.
 */
final class ReservedWords {
  private static final Pattern UNEXPECTED =
      Pattern.compile("syntax error, unexpected (\\w+), expecting IDENTIFIER.*");

  // IEEE 1800-2017, Annex B, less IEEE 1364-2005, Annex B, as Verilator has them: a test asks it.
  static final Set<String> WORDS =
      Set.of(
          ("accept_on alias always_comb always_ff always_latch assert assume before bind bins"
               + " binsof bit break byte chandle checker class clocking const constraint context"
               + " continue cover covergroup coverpoint cross dist do endchecker endclass"
               + " endclocking endgroup endinterface endpackage endprogram endproperty endsequence"
               + " enum eventually expect export extends extern final first_match foreach forkjoin"
               + " global iff ignore_bins illegal_bins implements implies import inside int"
               + " interconnect interface intersect join_any join_none let local logic longint"
               + " matches modport nettype new nexttime null package packed priority program"
               + " property protected pure rand randc randcase randsequence ref reject_on restrict"
               + " return s_always s_eventually s_nexttime s_until s_until_with sequence shortint"
               + " shortreal soft solve static string strong struct super sync_accept_on"
               + " sync_reject_on tagged this throughout timeprecision timeunit type typedef union"
               + " unique unique0 until until_with untyped var virtual void wait_order weak"
               + " wildcard with within")
              .split(" "));

  private ReservedWords() {}

  /** What to add to a message about a file: empty unless such a word stands for a name there. */
  static String hint(String file, String text) {
    Matcher unexpected = UNEXPECTED.matcher(text);
    return file.endsWith(".v") && unexpected.matches() && WORDS.contains(unexpected.group(1))
        ? "; \""
            + unexpected.group(1)
            + "\" is a word of SystemVerilog: rename it, or pass +1364-2005ext+v to have .v files"
            + " read as Verilog (--pass; arguments of @DesignUnderTest)"
        : "";
  }
}
