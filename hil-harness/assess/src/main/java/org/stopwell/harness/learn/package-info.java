/** Teaches the depth estimate with measured teeth. */
package org.stopwell.harness.learn;
