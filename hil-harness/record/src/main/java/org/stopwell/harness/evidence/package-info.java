/** From the trials of a run file to those that are analysed, by the rules of its protocol. */
package org.stopwell.harness.evidence;
