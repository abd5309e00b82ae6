/**
 * Makes sure that nothing counts twice: finds polygons that overlap or touch and replaces them, and only them, by their
 * union.
 *
 * <p>{@link org.evenstamp.geometry.merge.BoxPairs} compares bounding boxes, which is cheap; {@link
 * org.evenstamp.geometry.merge.OverlapMerger} looks at the polygons of the few pairs left and merges what really meets, by
 * JTS; {@link org.evenstamp.geometry.merge.MergedLayout} is the layout as it counts. Where polygons of different kinds
 * meet, land wins over cavities, the deeper cavity over the shallower one, and whatever is drawn over a texture; of what is
 * alike but for its role, the layout's own features win over dummies.
 */
@NullMarked
package org.evenstamp.geometry.merge;

import org.jspecify.annotations.NullMarked;
