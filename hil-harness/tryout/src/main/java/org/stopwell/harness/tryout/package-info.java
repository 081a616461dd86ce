/**
 * The page to try by hand: the control core with motor, hand, fluid and canal of the virtual bench,
 * compiled to JavaScript and put into one page that needs no server and no network.
 *
 * <p>{@link org.stopwell.harness.tryout.SceneText} describes the text that holds a whole scene; it
 * is also what a link to the page holds after its {@code #}.
 */
package org.stopwell.harness.tryout;
