/** The contract that every bench keeps. */
package org.stopwell.rig.bench;
