/** Settings of a policy against a target: search, judgement on other canals, the price. */
package org.stopwell.harness.tune;
