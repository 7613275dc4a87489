/** What a block promises: references, ports, flow, latency, beats and coverage points. */
package dev.plumbline.contract;
