/**
 * A campaign against the tool: inputs of every kind are made, changed at random and given to it in this process. It must answer
 * each within a time limit, with an exit code that tells the truth and no stack trace, and the areas it measures must be right.
 *
 * <p>Everything follows from a seed. {@link org.evenstamp.samples.campaign.CampaignMain} says how to start it;
 * {@code docs/reliability.md} holds the figures of the last long one.
 */
@NullMarked
package org.evenstamp.samples.campaign;

import org.jspecify.annotations.NullMarked;
