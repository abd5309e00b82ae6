package org.evenstamp.engine.job;

import java.util.Collection;
import java.util.Optional;

/** Finds what a mistyped word was meant to be. */
public final class NearestWord {
    private NearestWord() {}

    /** Returns the word with the fewest changed, added, dropped or swapped letters, if those are few for its length. */
    public static Optional<String> of(String typed, Collection<String> words) {
        String best = null;
        int least = Math.max(2, typed.length() / 3) + 1;
        for (String word : words) {
            int distance = distance(typed, word);
            if (distance < least) {
                least = distance;
                best = word;
            }
        }
        return Optional.ofNullable(best);
    }

    /** Returns the optimal string alignment distance: Levenshtein's, where swapped neighbours count once. */
    static int distance(String a, String b) {
        int[][] d = new int[a.length() + 1][b.length() + 1];
        for (int i = 0; i <= a.length(); i++) {
            for (int j = 0; j <= b.length(); j++) {
                if (i == 0 || j == 0) {
                    d[i][j] = i + j;
                    continue;
                }
                int change = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
                d[i][j] = Math.min(d[i - 1][j - 1] + change, Math.min(d[i - 1][j], d[i][j - 1]) + 1);
                if (i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1)) {
                    d[i][j] = Math.min(d[i][j], d[i - 2][j - 2] + 1);
                }
            }
        }
        return d[a.length()][b.length()];
    }
}
