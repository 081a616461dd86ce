/**
 * The live feed: what a running campaign shows to watchers, through one small file that it never
 * waits for. Nothing here is evidence.
 */
package org.stopwell.harness.live;
