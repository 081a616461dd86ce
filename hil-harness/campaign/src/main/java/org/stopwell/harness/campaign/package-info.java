/** Campaigns: many trials on one or several benches, in order, with nothing lost. */
package org.stopwell.harness.campaign;
