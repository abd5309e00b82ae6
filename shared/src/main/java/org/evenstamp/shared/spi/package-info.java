/**
 * The door for analyses, ours and a stranger's alike.
 *
 * <p>An {@link org.evenstamp.shared.spi.AnalysisProvider} is found by {@link java.util.ServiceLoader}. It describes
 * itself (id, parameters, fields needed, fields given) and makes an {@link org.evenstamp.shared.spi.Analysis} from
 * checked {@link org.evenstamp.shared.spi.Parameters}; the pipeline runs it on the fields it asked for and holds it to
 * the fields it promised. Fields that are demand over capacity it declares as an {@link org.evenstamp.shared.spi.Index},
 * with what would help, so that the worst places of all analyses can be put in one order.
 *
 * <p>A parameter's id is its path in the job file: {@code film.thickness} is the key {@code thickness} of the section
 * {@code film}. Several analyses may share a parameter if they declare it alike: the same kind, unit, default, range,
 * words or columns. Whether it is required, and what it means to them, each says for itself.
 */
@NullMarked
package org.evenstamp.shared.spi;

import org.jspecify.annotations.NullMarked;
