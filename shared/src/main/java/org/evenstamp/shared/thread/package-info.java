/** One way to share work among threads. */
@NullMarked
package org.evenstamp.shared.thread;

import org.jspecify.annotations.NullMarked;
