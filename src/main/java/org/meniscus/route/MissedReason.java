package org.meniscus.route;

/** Why a pool was not visited as planned. */
public enum MissedReason {

	NO_ACCESS, DOG, WEATHER, SICK, CLIENT_REQUEST, NO_TIME, OTHER

}
