/** The console: a web page on this machine that shows runs, asks one to stop, and may start one. */
package org.stopwell.harness.console;
