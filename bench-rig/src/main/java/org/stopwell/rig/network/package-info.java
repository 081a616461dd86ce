/** The resistor network in place of a tooth: values to buy, switch codes, errors. */
package org.stopwell.rig.network;
