package dev.plumbline.models.parsing;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The words, numbers and commas of a text; from # to the end of a line it is a comment. */
public final class Tokens {
  private static final Pattern TOKEN = Pattern.compile("#[^\n]*|\n|,|[^\\s,#]+");
  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][+-]?\\d{1,3})?");
  private static final Pattern NAME = Pattern.compile("[A-Za-z][A-Za-z0-9_-]*");
  private static final int MAX_DIGITS = 200;
  private static final int MAX_SHOWN = 60;

  /** One of them, and where it begins; empty at the end of the text. */
  public record Token(String text, Location place) {
    public boolean isEnd() {
      return text.isEmpty();
    }
  }

  private final String what;
  private final List<Token> tokens = new ArrayList<>();
  private int next;

  /** Of a text that messages call by a name. */
  public Tokens(String what, String text) {
    this.what = what;
    int line = 1;
    int begin = 0;
    Matcher matcher = TOKEN.matcher(text);
    while (matcher.find()) {
      String token = matcher.group();
      if (token.equals("\n")) {
        line++;
        begin = matcher.end();
      } else if (!token.startsWith("#")) {
        tokens.add(new Token(token, new Location(line, matcher.start() - begin + 1)));
      }
    }
    tokens.add(new Token("", new Location(line, text.length() - begin + 1)));
  }

  public Token peek() {
    return tokens.get(next);
  }

  public Token next() {
    Token token = tokens.get(next);
    next += token.isEnd() ? 0 : 1;
    return token;
  }

  /** Whether the next one is this word; if so it is passed. */
  public boolean passes(String word) {
    boolean is = peek().text().equals(word);
    next += is ? 1 : 0;
    return is;
  }

  /** Passes one of some words. */
  public String expect(String... allowed) {
    for (String word : allowed) {
      if (passes(word)) {
        return word;
      }
    }
    throw unexpected(allowed[0].equals(",") ? "a comma" : String.join(" or ", allowed));
  }

  /** A word that is none of the language's own. */
  public String name(String of, Set<String> taken) {
    String text = peek().text();
    if (!NAME.matcher(text).matches() || taken.contains(text)) {
      throw unexpected(
          "the name of "
              + of
              + ", a letter and then letters, digits, - and _"
              + (taken.contains(text) ? ", but none of the words that the page explains" : ""));
    }
    return next().text();
  }

  public BigDecimal number(String of) {
    String text = peek().text();
    if (!NUMBER.matcher(text).matches() || text.length() > MAX_DIGITS) {
      throw unexpected(of + ", a number like -1.25 with at most " + MAX_DIGITS + " characters");
    }
    return new BigDecimal(next().text());
  }

  /** A whole number of some range, both ends included. */
  public int integer(String of, int least, int most) {
    String text = peek().text();
    if (!text.matches("-?\\d{1,9}")
        || Integer.parseInt(text) < least
        || Integer.parseInt(text) > most) {
      throw unexpected(of + ", a whole number from " + least + " to " + most);
    }
    return Integer.parseInt(next().text());
  }

  /** The next one is not what may stand here. */
  public TextException unexpected(String allowed) {
    Token token = peek();
    return fault(
        token.place(),
        token.isEnd() ? "the end of the text" : "\"" + shown(token.text()) + "\"",
        "allowed here is " + allowed + "; write that instead");
  }

  /**
   * A token as messages quote it.
   *
   * @param token any text
   * @return the text, or how it begins where it is long
   */
  public static String shown(String token) {
    return token.length() <= MAX_SHOWN ? token : token.substring(0, MAX_SHOWN) + "...";
  }

  public TextException fault(Location place, String stood, String rest) {
    return new TextException(place, what + ": " + stood + place + ": " + rest, null);
  }

  /** What is made of the text cannot be; where it stands goes behind what failed. */
  public TextException fault(Location place, IllegalArgumentException refused) {
    String message = refused.getMessage();
    int failed = message.indexOf(": ");
    int end = failed < 0 ? message.length() : failed;
    return new TextException(
        place, what + ": " + message.substring(0, end) + place + message.substring(end), refused);
  }
}
