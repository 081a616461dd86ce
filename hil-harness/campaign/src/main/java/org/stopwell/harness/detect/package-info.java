/** Deliberate defects of the controller, and which of them a plan detects. */
package org.stopwell.harness.detect;
