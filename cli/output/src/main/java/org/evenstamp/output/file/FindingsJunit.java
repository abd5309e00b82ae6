package org.evenstamp.output.file;

import java.io.StringWriter;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
import org.evenstamp.analysis.limit.LimitCheck;
import org.evenstamp.analysis.limit.RankedPlace;
import org.evenstamp.engine.result.Results;
import org.evenstamp.output.text.LimitText;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;

/**
 * Writes {@code findings.junit.xml}: the limits of a run as the test cases of one suite, for whatever shows test reports.
 *
 * <p>A limit kept is a passed case, a limit broken a failure, a limit on a field without any value is skipped. Warnings,
 * indices above 1 that the job does not limit and skipped analyses are properties of the suite: they fail nothing. The form is that of the Surefire test report, whose schema
 * asks for a time of each case; it is 0, since results carry no times.
 */
public final class FindingsJunit {
    private FindingsJunit() {}

    /** Returns the document. */
    public static String write(Results results) {
        StringWriter text = new StringWriter();
        try {
            XMLStreamWriter xml = XMLOutputFactory.newInstance().createXMLStreamWriter(text);
            xml.writeStartDocument("UTF-8", "1.0");
            new Suite(results, xml).write();
            xml.writeEndDocument();
            xml.close();
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e); // a StringWriter never fails
        }
        return text.append('\n').toString();
    }

    private static final class Suite {
        private final Results results;
        private final XMLStreamWriter xml;
        private final Map<Limit, Finding.LimitBroken> broken = new LinkedHashMap<>();

        /** How often a property was written, by its name. */
        private final Map<String, Integer> properties = new HashMap<>();

        Suite(Results results, XMLStreamWriter xml) {
            this.results = results;
            this.xml = xml;
            results.broken().forEach(finding -> broken.put(finding.limit(), finding));
        }

        void write() throws XMLStreamException {
            open(0, "testsuite");
            attribute("name", results.name());
            attribute("time", "0");
            attribute("tests", Integer.toString(results.limits().size()));
            attribute("errors", "0");
            attribute("skipped", count(Suite::skipped));
            attribute("failures", count(Suite::fails));
            open(1, "properties");
            property("evenstamp", results.toolVersion());
            for (Finding.Warning warning : results.warnings()) {
                property(
                        "warning " + warning.code(),
                        warning.origin() + ": " + warning.message() + " (" + LimitText.place(warning.place()) + ")");
            }
            for (RankedPlace index : LimitText.indices(results)) {
                property("index " + index.limit().fieldId(), LimitText.index(index, results));
            }
            for (var skipped : results.skipped().entrySet()) {
                property("skipped " + skipped.getKey(), skipped.getValue());
            }
            close(1);
            for (Limit limit : results.limits()) {
                testCase(limit);
            }
            close(0);
        }

        private interface Question {
            boolean ask(Suite suite, Limit limit);
        }

        private String count(Question question) {
            return Long.toString(results.limits().stream()
                    .filter(limit -> question.ask(this, limit))
                    .count());
        }

        private boolean fails(Limit limit) {
            return broken.containsKey(limit);
        }

        private boolean skipped(Limit limit) {
            return LimitCheck.found(limit, results.fields()).isEmpty();
        }

        private void testCase(Limit limit) throws XMLStreamException {
            open(1, "testcase");
            attribute("name", LimitText.of(limit, results));
            attribute("classname", results.name());
            attribute("time", "0");
            Finding.LimitBroken finding = broken.get(limit);
            if (finding != null) {
                String help = LimitText.help(limit, results);
                open(2, "failure");
                attribute("message", LimitText.found(finding, results));
                attribute("type", FindingsSarif.LIMIT_EXCEEDED);
                xml.writeCharacters(clean(LimitText.of(limit, results) + ": " + LimitText.found(finding, results)
                        + (help.isEmpty() ? "" : "; would help: " + help)));
                xml.writeEndElement();
            } else if (skipped(limit)) {
                open(2, "skipped");
                attribute("message", "no tile has a value");
                xml.writeEndElement();
            } else {
                xml.writeEndElement();
                return;
            }
            close(1);
        }

        /** Writes a property; of several with one name the later ones are numbered, since readers keep one of a name. */
        private void property(String name, String value) throws XMLStreamException {
            int times = properties.merge(name, 1, Integer::sum);
            open(2, "property");
            attribute("name", times == 1 ? name : name + " " + times);
            attribute("value", value);
            xml.writeEndElement();
        }

        private void open(int depth, String name) throws XMLStreamException {
            xml.writeCharacters("\n" + "  ".repeat(depth));
            xml.writeStartElement(name);
        }

        private void close(int depth) throws XMLStreamException {
            xml.writeCharacters("\n" + "  ".repeat(depth));
            xml.writeEndElement();
        }

        private void attribute(String name, String value) throws XMLStreamException {
            xml.writeAttribute(name, clean(value));
        }
    }

    /** Replaces what XML 1.0 (section 2.2) has no character for, and line ends, which attributes would not keep. */
    private static String clean(String text) {
        StringBuilder clean = new StringBuilder(text.length());
        text.codePoints().forEach(c -> {
            boolean allowed = (c >= 0x20 && c <= 0xd7ff) || (c >= 0xe000 && c <= 0xfffd) || c >= 0x10000;
            clean.appendCodePoint(allowed ? c : c == '\n' || c == '\r' || c == '\t' ? ' ' : 0xfffd);
        });
        return clean.toString();
    }
}
