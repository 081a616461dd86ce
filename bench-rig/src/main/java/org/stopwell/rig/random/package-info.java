/** The only source of randomness: named streams that depend on a seed and nothing else. */
package org.stopwell.rig.random;
