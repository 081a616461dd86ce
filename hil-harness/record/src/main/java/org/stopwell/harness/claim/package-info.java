/** What the trials of a run say about its claims, and how two runs compare. */
package org.stopwell.harness.claim;
