/** What can be said of a plan or of settings before anything moves: margins, limits, warnings. */
package org.stopwell.harness.advice;
