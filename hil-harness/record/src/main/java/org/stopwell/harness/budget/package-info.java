/** The uncertainty budget of a stop error, by two published methods, and conformity with it. */
package org.stopwell.harness.budget;
