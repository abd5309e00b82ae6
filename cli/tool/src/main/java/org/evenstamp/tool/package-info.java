/**
 * The tool at the command line: reads the job, wires geometry and analyses together, writes results. The only part that
 * prints and that ends the process.
 */
@NullMarked
package org.evenstamp.tool;

import org.jspecify.annotations.NullMarked;
