/**
 * How a DUT is driven for a contract: its ports found and bound, cases drawn and laid into rows,
 * engines that run them. Internal to this module.
 */
package dev.plumbline.drive;
