/**
 * Statistics of stop errors: exact sums, exact intervals, verdicts on claims.
 *
 * <p>What cannot be estimated is an empty value, never NaN: reports write "not estimable".
 */
package org.stopwell.harness.stats;
