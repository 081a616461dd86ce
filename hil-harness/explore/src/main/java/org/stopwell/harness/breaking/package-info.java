/** The smallest disturbance of hand, sensor noise and faults that makes a file over-travel. */
package org.stopwell.harness.breaking;
