package org.meniscus.season;

import java.time.Duration;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;

import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.visit.VisitCorrected;
import org.meniscus.visit.VisitSubmitted;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.stereotype.Component;
import org.springframework.transaction.event.TransactionalEventListener;

/**
 * Has a pool assessed anew once a visit to it is stored or corrected: after the commit and beside the request, so that nothing that
 * goes wrong here touches the visit. What is missed when the service stops meanwhile is made up for at night.
 */
@Component
class DriftSnapshotListener implements DisposableBean {

	private static final Logger log = LoggerFactory.getLogger(DriftSnapshotListener.class);

	private static final Duration SHUTDOWN_TIMEOUT = Duration.ofSeconds(10);

	private final DriftSnapshots snapshots;

	private final Set<PendingPool> pending = ConcurrentHashMap.newKeySet();

	private final ExecutorService worker = Executors.newSingleThreadExecutor(work -> {
		Thread thread = new Thread(work, "season");
		thread.setDaemon(true);
		return thread;
	});

	DriftSnapshotListener(DriftSnapshots snapshots) {
		this.snapshots = snapshots;
	}

	private record PendingPool(CompanyId company, PoolId pool) {
	}

	@TransactionalEventListener
	void onVisitSubmitted(VisitSubmitted visit) {
		reassess(new PendingPool(visit.company(), visit.pool()));
	}

	@TransactionalEventListener
	void onVisitCorrected(VisitCorrected visit) {
		reassess(new PendingPool(visit.company(), visit.pool()));
	}

	/** Many visits to a pool at once are assessed together. */
	private void reassess(PendingPool one) {
		if (!pending.add(one)) {
			return;
		}
		worker.execute(() -> {
			pending.remove(one);
			try {
				snapshots.update(one.company(), one.pool());
			}
			catch (RuntimeException ex) {
				log.warn("the season of pool {} could not be assessed: {}", one.pool(), ex.toString());
			}
		});
	}

	@Override
	public void destroy() throws InterruptedException {
		worker.shutdown();
		if (!worker.awaitTermination(SHUTDOWN_TIMEOUT.toSeconds(), TimeUnit.SECONDS)) {
			worker.shutdownNow();
		}
	}

}
