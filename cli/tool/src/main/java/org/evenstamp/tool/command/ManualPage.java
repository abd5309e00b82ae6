package org.evenstamp.tool.command;

import java.util.Locale;
import picocli.CommandLine.Help;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/** A manual page of one command, in the macros of man(7), from what its help says. */
final class ManualPage {
    private static final int LONG_LINE = 10_000;

    private final CommandSpec command;
    private final StringBuilder text = new StringBuilder();
    private boolean heading; // nothing but a heading and what sets the margin stands since the last text

    ManualPage(CommandSpec command) {
        this.command = command;
    }

    /** Returns the name of the page, such as evenstamp-run. */
    String name() {
        return command.qualifiedName("-");
    }

    /** Returns the page. It bears no date, so that the same tool writes the same page. */
    String text() {
        String[] description = command.usageMessage().description();
        line(".TH " + name().toUpperCase(Locale.ROOT) + " 1 \"\" \""
                + command.root().version()[0] + "\"");
        line(".SH NAME");
        line(escaped(name()) + " \\- " + escaped(firstSentence(description[0])));
        line(".SH SYNOPSIS");
        line(".ad l");
        line(".nh");
        paragraph(synopsis());
        line(".ad b");
        line(".hy");
        line(".SH DESCRIPTION");
        for (String paragraph : description) {
            paragraph(plain(paragraph));
        }
        if (!command.positionalParameters().isEmpty()) {
            line(".SH ARGUMENTS");
            for (PositionalParamSpec parameter : command.positionalParameters()) {
                entry(parameter.paramLabel(), parameter);
            }
        }
        line(".SH OPTIONS");
        for (OptionSpec option : command.options()) {
            String label = option.arity().max() > 0 ? " " + option.paramLabel() : "";
            entry(String.join(", ", option.names()) + label, option);
        }
        if (!command.subcommands().isEmpty()) {
            line(".SH VERBS");
            command.subcommands().forEach((verb, line) -> {
                line(".TP");
                line("\\fB" + escaped(verb) + "\\fR");
                line(escaped(line.getCommandSpec().usageMessage().description()[0]));
            });
        }
        if (command.usageMessage().footer().length > 0) {
            String heading = command.usageMessage().footerHeading();
            line(".SH "
                    + String.format(Locale.ROOT, heading)
                            .strip()
                            .replace(":", "")
                            .toUpperCase(Locale.ROOT));
            line(".nf");
            for (String one : command.usageMessage().footer()) {
                line(escaped(plain(one)));
            }
            line(".fi");
        }
        return text.toString();
    }

    /** Returns the synopsis on one line, however long: the reader's terminal breaks it. */
    private String synopsis() {
        int width = command.usageMessage().width();
        try {
            command.usageMessage().width(LONG_LINE);
            return new Help(command, Help.defaultColorScheme(Ansi.OFF))
                    .synopsis(0)
                    .strip();
        } finally {
            command.usageMessage().width(width);
        }
    }

    private void entry(String label, ArgSpec argument) {
        line(".TP");
        line("\\fB" + escaped(label) + "\\fR");
        for (String sentence : argument.description()) {
            line(escaped(plain(sentence)));
        }
    }

    private void paragraph(String words) {
        if (!heading) {
            line(".PP");
        }
        line(escaped(words));
    }

    private void line(String one) {
        heading = one.startsWith(".SH ") || (heading && (one.equals(".ad l") || one.equals(".nh")));
        text.append(one).append('\n');
    }

    /** Returns what stands before the first colon, semicolon or full stop. */
    private static String firstSentence(String description) {
        return plain(description).replaceFirst("(?s)[:;.]( .*)?$", "");
    }

    /** Returns words as the help shows them. */
    private static String plain(String words) {
        return words.replace("%n", "\n").replace("%%", "%");
    }

    /** Returns words in which nothing is taken for a command of the typesetter. */
    private static String escaped(String words) {
        String safe = words.replace("\\", "\\e").replace("-", "\\-");
        return safe.startsWith(".") || safe.startsWith("'") ? "\\&" + safe : safe;
    }
}
