package org.evenstamp.analysis.balance;

import java.util.List;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.FieldName;

/** The names of the fields that the balance alone knows, and of all that it gives. */
public final class BalanceFields {
    /** What is missing to a full fill. */
    public static final FieldName STARVED_SHARE =
            FieldName.of("starved.share", "1", "share of the cavity volume that the tile's own film leaves empty");
    /** Film that has to leave. */
    public static final FieldName VOLUME_SURPLUS = FieldName.of(
            "volume.surplus",
            "nm",
            "film that has to leave the tile (negative: arrive) until the residual layer is even, spread over its area");
    /** How far it has to travel. */
    public static final FieldName TRANSPORT_DISTANCE = FieldName.of(
            "transport.distance",
            "um",
            "mean distance that the tile's surplus has to travel; no value where there is no surplus");

    private BalanceFields() {}

    /** Returns all of them in the order they are given. */
    public static List<FieldName> all() {
        return List.of(
                ImprintFields.RESIDUAL_LOCAL,
                ImprintFields.FILL_SHARE_LOCAL,
                STARVED_SHARE,
                VOLUME_SURPLUS,
                TRANSPORT_DISTANCE,
                ImprintFields.FILL_TIME_FREE);
    }
}
