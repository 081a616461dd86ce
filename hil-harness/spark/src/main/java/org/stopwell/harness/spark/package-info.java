/** Apache Spark as an engine of explorations: shards on the workers of a cluster. */
@NullMarked
package org.stopwell.harness.spark;

import org.jspecify.annotations.NullMarked;
