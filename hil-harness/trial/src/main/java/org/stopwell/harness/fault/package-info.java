/** Trials with deliberate faults: their results, and the faults that their traces show. */
package org.stopwell.harness.fault;
