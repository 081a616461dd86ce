/** The test harness: from a plan to a signed number. */
package org.stopwell.harness;
