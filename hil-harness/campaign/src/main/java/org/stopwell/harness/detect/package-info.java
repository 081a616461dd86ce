/** What a plan would notice: defects put into the controller on purpose. */
package org.stopwell.harness.detect;
