/** Probability of over-travel where counting does not reach: subset simulation over trials. */
package org.stopwell.harness.rare;
