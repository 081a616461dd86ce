/** The console: a web page on this machine that shows runs and may ask one to stop. */
package org.stopwell.harness.console;
