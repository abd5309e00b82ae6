/**
 * The door to engines that spread work over machines. Nothing here knows one: {@link org.evenstamp.engine.remote.RemoteEngines}
 * finds by {@link java.util.ServiceLoader} what stands beside the tool.
 */
@NullMarked
package org.evenstamp.engine.remote;

import org.jspecify.annotations.NullMarked;
