/**
 * Where a user starts: benches that join a design, a contract and a stimulus, and the search for a
 * latency.
 */
package dev.plumbline.check;
