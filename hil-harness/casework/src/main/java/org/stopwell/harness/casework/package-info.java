/** One tooth with its canals: what is planned, what was done, and the plan of every step. */
package org.stopwell.harness.casework;
