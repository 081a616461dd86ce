/** Trials with faults on purpose: what came of them, and what their traces show. */
package org.stopwell.harness.fault;
