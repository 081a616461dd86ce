/** Budgets, limits and ordered reactions. */
package org.stopwell.core.guard;
