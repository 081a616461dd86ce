/** Stops that were measured elsewhere: their plan, their table, and the result of each row. */
package org.stopwell.harness.stops;
