/**
 * Exploration at scale: work that is split into shards, summaries that merge in any order to the
 * same bytes, and the answers that are computed from the summary alone.
 */
package org.stopwell.harness.explore;
