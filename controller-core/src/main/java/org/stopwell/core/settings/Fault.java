package org.stopwell.core.settings;

/**
 * One mistake in a set of values. Mistakes are gathered and reported together.
 *
 * @param key where: the key, such as {@code standoff_mm}
 * @param message what: a sentence that holds the value, the limit and the unit
 */
public record Fault(String key, String message) {}
