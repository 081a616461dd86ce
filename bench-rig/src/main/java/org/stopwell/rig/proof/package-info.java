/** The proof of a bench: does it do what a bench must, before a campaign relies on it. */
package org.stopwell.rig.proof;
