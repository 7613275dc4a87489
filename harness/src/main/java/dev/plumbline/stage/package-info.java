/**
 * Which stage of a datapath went wrong first: signals inside a DUT held against the steps of its
 * reference. Internal to this module.
 */
package dev.plumbline.stage;
