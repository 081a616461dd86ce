/** Functions of numbers that are the same to the bit wherever the core runs. */
package org.stopwell.core.number;
