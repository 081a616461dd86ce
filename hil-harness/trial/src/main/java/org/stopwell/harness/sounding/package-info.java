/** Soundings taken on a bench, and the length record that they make. */
package org.stopwell.harness.sounding;
