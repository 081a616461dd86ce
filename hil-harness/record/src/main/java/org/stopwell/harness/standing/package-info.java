/** Whether a bench is fit to decide: proven, calibrated, unchanged, good enough. */
package org.stopwell.harness.standing;
