/** Keys and detached signatures over a run, its report and a frozen plan. */
package org.stopwell.harness.sign;
