package dev.plumbline.rtl;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.UnaryOperator;
import javax.xml.XMLConstants;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.parsers.SAXParser;
import javax.xml.parsers.SAXParserFactory;
import org.xml.sax.Attributes;
import org.xml.sax.SAXException;
import org.xml.sax.helpers.DefaultHandler;

/** Reads the XML that Verilator 5.006 to 5.042 write with {@code --xml-only}. */
final class XmlTree extends DefaultHandler {
  /** How every file begins. */
  private static final String DECLARATION = "<?xml version=\"1.0\" ?>";

  /** Control characters in string parameters, as Verilator writes them, are legal in 1.1 only. */
  private static final String CLAIM = "<?xml version=\"1.1\" ?>";

  private static final String DEPTH_LIMIT =
      "http://www.oracle.com/xml/jaxp/properties/maxElementDepth";

  private final Map<String, String> files = new LinkedHashMap<>();
  private final Map<String, Node> types = new HashMap<>();
  private final Map<String, Node> modules = new HashMap<>();
  private final Deque<Node> open = new ArrayDeque<>();
  private List<String> sources = List.of();
  private Node root;

  private final UnaryOperator<String> names;

  private XmlTree(UnaryOperator<String> names) {
    this.names = names;
  }

  static Tree read(Path xml, UnaryOperator<String> names) {
    try (InputStream in = Files.newInputStream(xml)) {
      return read(xml, in, names);
    } catch (IOException e) {
      throw Tree.unreadable("XML", xml, e);
    }
  }

  /** Reads it from a stream; the file is only named in messages. */
  static Tree read(Path xml, InputStream in, UnaryOperator<String> names) {
    XmlTree reader = new XmlTree(names);
    try {
      in.skipNBytes(DECLARATION.length());
      InputStream declared = new ByteArrayInputStream(CLAIM.getBytes(StandardCharsets.US_ASCII));
      parser().parse(new SequenceInputStream(declared, in), reader);
    } catch (IOException | SAXException | ParserConfigurationException | RuntimeException e) {
      throw Tree.unreadable("XML", xml, e);
    }
    if (reader.root == null || reader.root.children("netlist").findAny().isEmpty()) {
      throw new RtlException(
          "\""
              + xml
              + "\" is not the XML that verilator --xml-only writes; have Verilator write it anew",
          List.of());
    }
    return reader.link();
  }

  private static SAXParser parser() throws ParserConfigurationException, SAXException {
    SAXParserFactory factory = SAXParserFactory.newInstance();
    factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
    factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
    SAXParser parser = factory.newSAXParser();
    // Expressions nest as deep as generated source likes; newer JDKs would stop at 200.
    parser.setProperty(DEPTH_LIMIT, "0");
    return parser;
  }

  @Override
  public void startElement(String uri, String localName, String kind, Attributes attributes) {
    String[] place =
        attributes.getValue("loc") == null ? null : attributes.getValue("loc").split(",", -1);
    String name =
        attributes.getValue("name") == null ? "" : Literals.utf8(attributes.getValue("name"));
    Node node =
        place == null
            ? new Node(kind, name, new SourceLocation("", 0), 0)
            : new Node(
                kind,
                name,
                new SourceLocation(files.getOrDefault(place[0], ""), Integer.parseInt(place[1])),
                Integer.parseInt(place[2]));
    for (int i = 0; i < attributes.getLength(); i++) {
      node.attributes.put(attributes.getQName(i), Literals.utf8(attributes.getValue(i)));
    }
    if (open.isEmpty()) {
      root = node;
    } else {
      open.peek().add(node);
    }
    open.push(node);
    if (kind.equals("file")) {
      files.putIfAbsent(node.attribute("id"), names.apply(node.attribute("filename")));
    } else if (kind.endsWith("dtype")) {
      types.put(node.attribute("id"), node);
    } else if (node.is("module", "iface", "package")) {
      modules.put(name, node);
    }
  }

  @Override
  public void endElement(String uri, String localName, String kind) {
    open.pop();
    if (kind.equals("files")) {
      mendFileNames();
    }
  }

  /** 5.006 cuts file names short at a blank in most places; where one name fits, it is that. */
  private void mendFileNames() {
    Set<String> cut = new HashSet<>();
    for (Map.Entry<String, String> file : files.entrySet()) {
      String start = file.getValue() + " ";
      List<String> whole = files.values().stream().filter(it -> it.startsWith(start)).toList();
      if (!whole.isEmpty()) {
        cut.add(file.getValue());
      }
      if (whole.size() == 1) {
        file.setValue(whole.get(0));
      }
    }
    sources = files.values().stream().distinct().filter(file -> !cut.contains(file)).toList();
  }

  private Tree link() {
    root.all()
        .forEach(
            node -> {
              String type = node.kind.endsWith("dtype") ? "sub_dtype_id" : "dtype_id";
              node.type = types.get(node.attribute(type));
              if (node.is("instance")) {
                node.target = modules.get(node.attribute("defName"));
              }
            });
    Node netlist = root.children("netlist").findFirst().orElseThrow();
    return new Tree(netlist, sources, false);
  }
}
