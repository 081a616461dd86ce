/** The resistor network that stands for a tooth: values to buy, switch codes, errors. */
package org.stopwell.rig.network;
